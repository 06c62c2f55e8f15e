/** A calibration guided from a page, with a scripted tag and a scripted person. */
import { describe, expect, it } from "vitest";
import { calibrate } from "../../../host/calibrate/bench-calibration.ts";
import { parseBenchRun } from "../../../host/calibrate/bench-run.ts";
import { certificateOf } from "../../../host/calibrate/certificate.ts";
import { NO_GEOMETRY } from "../../../host/calibrate/load.ts";
import { PASCAL_PER_MMHG } from "../../../host/readings/pressure.ts";
import { ReadingStream } from "../../../host/readings/reading-stream.ts";
import { Guide } from "../../../host/view/guide.ts";
import type { CalibrationState } from "../../../host/view/messages.ts";
import type { CalibrateRequest } from "../../../host/view/requests.ts";
import { layout } from "../../../protocol/index.ts";
import { EPC, frame, service } from "../readings/tag-words.ts";

const AMBIENT_PA = 101_000;

/** An invented cell that gives 0.9 of the load and 2 Pa too much; two frames a second. */
function bench() {
  const guide = new Guide("plyframe 0.0.0");
  const stream = new ReadingStream(layout, { started: null, barometerUncertaintyPa: 12 }, { kind: "kit_barometer" });
  stream.push({ kind: "ambient", kitTimeUs: 0, pressureRaw: AMBIENT_PA * 128, temperatureC: null });
  const told: CalibrationState[] = [];
  guide.onState = (state) => told.push(state);
  let [timeS, sequence] = [0, 100];
  /** So many frames under a load; the scatter alternates, so that no frame is like the one before. */
  const hold = async (mmhg: number, frames: number, driftPa = 0) => {
    for (let i = 0; i < frames; i++) {
      timeS += 0.5;
      sequence++;
      const pressurePa = AMBIENT_PA + 0.9 * mmhg * PASCAL_PER_MMHG + 2 + (i % 2) + driftPa * i;
      const a = frame({ sequence, pressure: Math.round(pressurePa * 128) });
      const outcomes = stream.push(service({ a }, { kitTimeUs: timeS * 1e6 }));
      for (const outcome of outcomes) if (outcome.kind === "reading") guide.reading(outcome, timeS);
      await new Promise(setImmediate);
      guide.tick();
    }
  };
  const ask = async (request: Omit<CalibrateRequest, "type">, page = 1) => {
    const refused = guide.request(page, { type: "calibrate", ...request } as CalibrateRequest);
    await new Promise(setImmediate);
    return refused?.code ?? null;
  };
  const start = (loads_mmhg: readonly number[], cycles: number, reference_uncertainty_pa: number | null = 8) =>
    ask({ action: "start", epc: EPC, loads_mmhg, cycles, reference_uncertainty_pa } as never);
  return { guide, told, hold, ask, start };
}

describe("the steps", () => {
  it("go up and down again in every cycle, and each waits for the load, then until it has settled", async () => {
    const { guide, hold, ask, start } = bench();
    expect(guide.state()).toMatchObject({ phase: "idle", step: null, points: [], fit: null, csv: null });
    await hold(0, 4);
    expect(await start([0, 40], 2)).toBeNull();
    expect(guide.state()).toMatchObject({
      phase: "apply",
      epc: EPC,
      page: 1,
      step: { number: 1, of: 6, cycle: 1, direction: "up", load_mmhg: 0 },
    });
    const seen: unknown[] = [];
    for (const load of [0, 40, 0, 0, 40, 0]) {
      const { step } = guide.state();
      seen.push([step!.cycle, step!.direction, step!.load_mmhg]);
      expect(await ask({ action: "applied", load_mmhg: null } as never)).toBeNull();
      expect(guide.state().phase).toBe("settling");
      await hold(load, 8);
    }
    expect(seen).toEqual([
      [1, "up", 0],
      [1, "up", 40],
      [1, "down", 0],
      [2, "up", 0],
      [2, "up", 40],
      [2, "down", 0],
    ]);
    expect(guide.state()).toMatchObject({ phase: "done", step: null, stability: null });
  });

  it("show a light all the time: unlike readings, too few, then settled", async () => {
    const { guide, hold, ask, start } = bench();
    await hold(0, 4);
    await start([0], 1);
    await hold(0, 8, 50);
    expect(guide.state().stability).toMatchObject({ stable: false, count: 8, least_count: 8, change_limit_pa: 5 });
    expect(guide.state().stability!.change_pa).toBeGreaterThan(300);
    await ask({ action: "applied", load_mmhg: null } as never);
    expect(guide.state().stability).toMatchObject({ count: 0, change_pa: null });
    await hold(0, 7);
    expect(guide.state()).toMatchObject({ phase: "settling", stability: { stable: false, count: 7 } });
    await hold(0, 1);
    expect(guide.state().phase).toBe("done");
  });

  it("ask about a load that does not settle within a minute: wait, take it as it is, or skip", async () => {
    const { guide, hold, ask, start } = bench();
    await hold(0, 4);
    await start([0, 10], 1);
    await ask({ action: "applied", load_mmhg: null } as never);
    await hold(0, 119, 50);
    expect(guide.state().phase).toBe("settling");
    await hold(0, 3, 50);
    expect(guide.state().phase).toBe("unsettled");
    expect(await ask({ action: "applied", load_mmhg: null } as never)).toBe("calibration_not_now");
    expect(await ask({ action: "wait" } as never)).toBeNull();
    expect(guide.state().phase).toBe("settling");
    await hold(0, 123, 50);
    expect(await ask({ action: "take" } as never)).toBeNull();
    expect(guide.state()).toMatchObject({
      phase: "apply",
      step: { number: 2 },
      points: [{ step: 1, unsettled: true }],
    });
    expect(await ask({ action: "skip" } as never)).toBeNull();
    expect(guide.state().step).toMatchObject({ number: 3 });
  });

  it.each(["apply", "settling"])("can be stopped in %s; what was taken stays until it is cleared", async (phase) => {
    const { guide, hold, ask, start } = bench();
    await hold(0, 4);
    await start([0, 20, 40], 1);
    await ask({ action: "applied", load_mmhg: null } as never);
    await hold(0, 8);
    if (phase === "settling") await ask({ action: "applied", load_mmhg: null } as never);
    expect(guide.state().phase).toBe(phase);
    expect(await ask({ action: "clear" } as never)).toBe("calibration_not_now");
    await ask({ action: "stop" } as never);
    expect(guide.state()).toMatchObject({ phase: "done", points: [{ step: 1 }] });
    expect(guide.state().csv).toContain("reference_mmhg,sensor_raw");
    expect(await ask({ action: "clear" } as never)).toBeNull();
    expect(guide.state()).toMatchObject({ phase: "idle", epc: null, page: null, points: [], csv: null });
  });
});

describe("the points", () => {
  it("and the fit are those of the certificate that the same CSV gives, and grow", async () => {
    const { guide, hold, ask, start } = bench();
    await hold(0, 4);
    await start([0, 20, 40, 60], 2);
    const counts: number[] = [];
    for (const load of [0, 20, 40, 60, 40, 20, 0, 0, 20, 40, 60, 40, 20, 0]) {
      await ask({ action: "applied", load_mmhg: load } as never);
      await hold(load, 8);
      counts.push(guide.state().points.length);
    }
    expect(counts).toEqual(counts.map((_, i) => i + 1));
    const { csv, fit, points } = guide.state();
    // The invented cell read backwards: 1 / 0.9.
    const gain = fit!.model.coefficients.find(({ term }) => term === "gain")!;
    expect(gain.value).toBeCloseTo(1 / 0.9, 4);
    expect(points.every(({ residual_mmhg }) => Math.abs(residual_mmhg!) < 0.05)).toBe(true);
    expect(points[3]!.sensor_gauge_mmhg).toBeCloseTo(0.9 * 60 + 2.5 / PASCAL_PER_MMHG, 4);
    const run = parseBenchRun(csv!, { geometry: NO_GEOMETRY, ambientPa: null });
    expect(run.notes.get("reference_uncertainty_pa")).toBe("8");
    expect(run.notes.get("ambient_uncertainty_pa")).toBe("12");
    expect(run.rows).toHaveLength(14 * 8);
    const calibration = calibrate(run, {
      date: run.notes.get("date")!,
      epc: EPC,
      sensorSerial: 4711,
      reuseCount: 0,
      reuseLimit: 20,
      barometerAboveM: 0,
      benchTemperatureC: null,
      useC: [20, 40],
      designedGain: 1,
      reference: { expandedPa: 8, expandedShare: 0 },
      ambientExpandedPa: 12,
      driftPaPerYear: null,
      validityMonths: 6,
      assumed: new Map(),
    });
    const certificate = certificateOf({ ...calibration, result: calibration.result! }, "plyframe 0.0.0");
    expect(fit!.budget).toEqual(certificate.budget);
    expect(fit!.model).toEqual(certificate.model);
    expect(points.map(({ residual_mmhg }) => residual_mmhg)).toEqual(
      certificate.run.points.map(({ error_pa }) => error_pa / PASCAL_PER_MMHG),
    );
  });

  it("without a stated reference give no expanded uncertainty, and say so", async () => {
    const { guide, hold, ask, start } = bench();
    await hold(0, 4);
    await start([0, 40], 1, null);
    for (const load of [0, 40, 0]) {
      await ask({ action: "applied", load_mmhg: null } as never);
      await hold(load, 8);
    }
    const { fit } = guide.state();
    expect(fit!.budget.expanded_pa).toBeNull();
    expect(fit!.findings.map(({ code }) => code)).toContain("contribution-unknown");
  });
});

describe("several pages", () => {
  it("one guides, the others look on; when it goes, another may take over where it stands", async () => {
    const { guide, hold, ask, start } = bench();
    await hold(0, 4);
    await start([0, 40], 1);
    expect(await ask({ action: "applied", load_mmhg: null } as never, 2)).toBe("calibration_elsewhere");
    guide.left(2);
    expect(guide.state().page).toBe(1);
    guide.left(1);
    expect(guide.state()).toMatchObject({ phase: "apply", page: null });
    expect(await ask({ action: "applied", load_mmhg: null } as never, 2)).toBeNull();
    expect(guide.state()).toMatchObject({ phase: "settling", page: 2 });
    expect(await start([0], 1)).toBe("calibration_elsewhere");
  });

  it("none begins with a tag that was not read, or while one is under way", async () => {
    const { hold, start, ask } = bench();
    expect(await start([0], 1)).toBe("tag_unknown");
    expect(await ask({ action: "stop" } as never)).toBe("calibration_not_now");
    await hold(0, 4);
    await start([0], 1);
    expect(await start([0], 1)).toBe("calibration_not_now");
  });
});
