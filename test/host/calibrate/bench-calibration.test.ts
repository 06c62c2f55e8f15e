/** From run to result: the model chosen and why, what is missing and what is computed all the same. */
import { describe, expect, it } from "vitest";
import { calibrate } from "../../../host/calibrate/bench-calibration.ts";
import { parseBenchRun } from "../../../host/calibrate/bench-run.ts";
import { blockRecord } from "../../../host/calibrate/block.ts";
import { decode, isFault, nameOf, physicalOf } from "../../../protocol/index.ts";
import { HEADER, inventRows, plan, truth } from "../../support/invented-bench-run.ts";
import { asColumnsSay, calibrateInvented, codesOf, settings } from "./settings.ts";

const reasonsOf = (made: ReturnType<typeof calibrateInvented>) =>
  Object.fromEntries(made.result!.choice.verdicts.map(({ term, kept, reason }) => [term, `${kept} ${reason}`]));
const plainCell = { temperatureEffectPaPerK: 0, gainPerK: 0, curvaturePerPa: 0 };

describe("a full run", () => {
  const made = calibrateInvented();
  const { choice, errors, budget, block, method } = made.result!;

  it("carries every term and raises no finding", () => {
    expect(choice.fit.terms).toHaveLength(5);
    expect(method).toBe("bench_with_temperature");
    expect(made.findings).toEqual([]);
  });

  it("shows the invented hysteresis, creep and scatter", () => {
    expect(errors.hysteresis!.value).toBeGreaterThan(2 * truth.halfLoopPa * 0.85);
    expect(errors.hysteresis!.value).toBeLessThan(2 * truth.halfLoopPa * 1.15);
    expect(errors.creeps).toHaveLength(1);
    const crept = truth.creepPa * Math.exp(-1 / 4) - truth.creepPa * Math.exp(-10 / 4);
    expect(errors.creeps[0]!.value).toBeGreaterThan(crept - 6);
    expect(errors.creeps[0]!.value).toBeLessThan(truth.creepPa + 4);
    // Noise of tag, barometer and written reference: 1.2, 0.5 and 0.4 Pa.
    expect(errors.repeatability!.sd).toBeGreaterThan(1);
    expect(errors.repeatability!.sd).toBeLessThan(2);
    expect(errors.zeroReturns).toHaveLength(9);
  });

  it("lists every contribution, and the root sum of their squares", () => {
    const ids = budget.contributions.map(({ id }) => id);
    expect(ids).toEqual([
      "reference",
      "fit",
      "lack_of_fit",
      "resolution",
      "repeatability",
      "hysteresis",
      "creep",
      "temperature",
      "ambient_at_calibration",
      "drift",
      "quantisation",
    ]);
    const squares = budget.contributions.reduce(
      (total, { standardUncertaintyPa }) => total + standardUncertaintyPa! ** 2,
      0,
    );
    expect(budget.combinedPa).toBeCloseTo(Math.sqrt(squares), 10);
    expect(budget.expandedPa).toBeCloseTo(2 * Math.sqrt(squares), 1);
  });

  it("takes each from where it says", () => {
    const of = (id: string) => budget.contributions.find((contribution) => contribution.id === id)!;
    const { gain } = choice.fit.coefficients;
    // Stated: 8 Pa and 10 Pa at k = 2, 30 Pa a year over six months. Measured: half the loop, the whole creep.
    expect(of("reference").standardUncertaintyPa).toBe(4);
    expect(of("ambient_at_calibration").standardUncertaintyPa).toBeCloseTo(5 * gain, 10);
    expect(of("drift").halfWidthPa).toBeCloseTo(15 * gain, 10);
    expect(of("hysteresis").halfWidthPa).toBeCloseTo(errors.hysteresis!.value / 2, 10);
    expect(of("creep").halfWidthPa).toBeCloseTo(Math.abs(errors.creeps[0]!.value), 10);
    // Half a kelvin between sensor and air, 6.5 Pa/K and 0.04 % of 13.3 kPa a kelvin, through a gain of 1.075.
    expect(of("temperature").halfWidthPa).toBeCloseTo(0.5 * (6.5 * 1.0753 + 13_332 * 4e-4), 0);
    // Half of 1/128 Pa and half of 0.01 K at 6.5 Pa/K.
    expect(of("resolution").halfWidthPa).toBeCloseTo((1 / 256 + 0.005 * 6.5) * 1.0753, 3);
  });

  it("goes into a block that decodes to it", () => {
    const read = decode(
      blockRecord,
      block!.words.flatMap((word) => [word >> 8, word & 0xff]),
    );
    if (isFault(read)) throw new Error(read.code);
    const { coefficients } = choice.fit;
    expect(physicalOf(read, "offset")).toBeCloseTo(coefficients.offset, 1);
    expect(physicalOf(read, "gain")).toBeCloseTo(coefficients.gain, 6);
    expect(physicalOf(read, "temperature_effect")).toBeCloseTo(coefficients.temperature_effect, 1);
    expect(Math.abs(physicalOf(read, "gain_temperature")! - coefficients.gain_temperature)).toBeLessThan(5.1e-7);
    expect(Math.abs(physicalOf(read, "curvature")! - coefficients.curvature)).toBeLessThan(5.1e-10);
    expect(physicalOf(read, "expanded_uncertainty")).toBe(Math.ceil(budget.expandedPa!));
    expect(nameOf(read, "method")).toBe("bench_with_temperature");
    // 2026-02-17 is 366 + 4·365 + 1 (2024) + 365 + 31 + 16 days after 2020-01-01, worked by hand.
    expect(physicalOf(read, "date")).toBe(366 + 365 + 365 + 365 + 366 + 365 + 31 + 16);
    expect(physicalOf(read, "span")).toBe(133);
    expect([physicalOf(read, "temperature_low"), physicalOf(read, "temperature_high")]).toEqual([20, 40]);
    expect([physicalOf(read, "reuse_count"), physicalOf(read, "reuse_since"), physicalOf(read, "reuse_limit")]).toEqual(
      [1, 0, 20],
    );
  });
});

describe("the simplest model the data support", () => {
  it("is offset and gain for a cell that does no more", () => {
    const made = calibrateInvented(3, plainCell);
    expect(made.result!.choice.fit.terms).toEqual(["offset", "gain"]);
    expect(reasonsOf(made).curvature).toMatch(/^false left out: .*F\(1, \d+\)/);
    expect(reasonsOf(made).gain_temperature).toBe("false not tried: there is no temperature effect before it");
  });

  it("has the temperature effect when only that is there", () => {
    const made = calibrateInvented(3, { ...plainCell, temperatureEffectPaPerK: 6 });
    expect(made.result!.choice.fit.terms).toEqual(["offset", "gain", "temperature_effect"]);
    expect(reasonsOf(made).temperature_effect).toMatch(/^true kept: .*AICc lower by/);
  });

  it("does not try temperature terms at one temperature, and bounds them by the sealed gas", () => {
    const made = calibrateInvented(3, {}, { temperaturesC: [30] });
    expect(reasonsOf(made).temperature_effect).toMatch(/^false not tried: temperatures differ by 0\.\d K only$/);
    expect(codesOf(made)).toContain("temperature-not-covered");
    const temperature = made.result!.budget.contributions.find(({ id }) => id === "temperature")!;
    expect(temperature.note).toContain("rigid sealed cell");
    expect(temperature.halfWidthPa).toBeGreaterThan(0.5 * 333 * 1.05);
  });
});

describe("what can still be computed", () => {
  it("one pressure: the offset, the gain as designed", () => {
    const made = calibrateInvented(3, {}, { levelsMmhg: [0], hold: false }, { designedGain: 1.07 });
    expect(codesOf(made)).toContain("one-pressure-only");
    expect(made.result!.method).toBe("zero_only");
    expect(made.result!.choice.fit.coefficients.gain).toBe(1.07);
    expect(made.result!.choice.fit.coefficients.offset).toBeCloseTo(truth.offsetPa, -1);
    // Nothing is known of hysteresis: no uncertainty is stated in the block.
    expect(made.result!.budget.expandedPa).toBeNull();
    const read = decode(
      blockRecord,
      made.result!.block!.words.flatMap((word) => [word >> 8, word & 0xff]),
    );
    expect(isFault(read) ? read.code : physicalOf(read, "expanded_uncertainty")).toBeNull();
  });

  it("two points: coefficients without an uncertainty", () => {
    const rows = inventRows(3, truth, {
      ...plan,
      levelsMmhg: [0, 80],
      temperaturesC: [30],
      cycles: 1,
      hold: false,
    }).slice(0, 2);
    const csv = `${HEADER}\n${rows.map((row) => [row.timeS, 1, "up", row.step, row.referencePa / 133.322387415, row.sensorRaw, row.temperatureC, row.ambientRaw].join(",")).join("\n")}\n`;
    const made = calibrate(parseBenchRun(csv, asColumnsSay), settings);
    expect(codesOf(made)).toEqual(expect.arrayContaining(["points-too-few", "one-direction-only", "no-replicates"]));
    expect(made.result!.method).toBe("bench_two_point");
    expect(made.result!.choice.fit.coefficients.gain).toBeGreaterThan(1);
    expect(made.result!.budget.expandedPa).toBeNull();
  });

  it("one direction: everything but hysteresis, which may be given", () => {
    const csv = (keep: (direction: string) => boolean) =>
      `${HEADER}\n${inventRows(3)
        .filter(({ direction }) => keep(direction))
        .map((row) =>
          [
            row.timeS,
            row.cycle,
            row.direction,
            row.step,
            row.referencePa / 133.322387415,
            row.sensorRaw,
            row.temperatureC,
            row.ambientRaw,
          ].join(","),
        )
        .join("\n")}\n`;
    const up = parseBenchRun(
      csv((direction) => direction === "up"),
      asColumnsSay,
    );
    const made = calibrate(up, settings);
    expect(codesOf(made)).toEqual(["contribution-unknown", "one-direction-only"]);
    expect(made.result!.budget.expandedPa).toBeNull();
    const given = calibrate(up, { ...settings, assumed: new Map([["hysteresis", 20]]) });
    expect(given.result!.budget.expandedPa).toBeGreaterThan(20);
  });

  it("one cycle of several readings a step: repeatability from the fit and from within the steps", () => {
    const made = calibrateInvented(3, { noisePa: 8 }, { cycles: 1, readings: 6, hold: false });
    expect(codesOf(made)).toEqual(["no-replicates"]);
    const { budget, choice, errors } = made.result!;
    // Tag 8 Pa; the barometer's noise stands in another column.
    expect(errors.singleReading!.sd).toBeGreaterThan(7);
    expect(errors.singleReading!.sd).toBeLessThan(10);
    const u = budget.contributions.find(({ id }) => id === "repeatability")!.standardUncertaintyPa!;
    expect(u).toBeCloseTo(Math.hypot(choice.fit.regression.residualSd, errors.singleReading!.sd), 9);
  });

  it("no temperature column: coefficients, no block; a typed temperature gives one", () => {
    const csv = `time_s,cycle,direction,reference_mmhg,sensor_raw,ambient_raw\n${inventRows(3, truth, {
      ...plan,
      temperaturesC: [30],
      hold: false,
    })
      .map((row) =>
        [row.timeS, row.cycle, row.direction, row.referencePa / 133.322387415, row.sensorRaw, row.ambientRaw].join(","),
      )
      .join("\n")}\n`;
    const run = parseBenchRun(csv, asColumnsSay);
    const made = calibrate(run, settings);
    expect(codesOf(made)).toEqual(["block-range", "contribution-unknown", "temperature-missing"]);
    expect(made.result!.choice.fit.coefficients.gain).toBeCloseTo(truth.gain, 2);
    expect(made.result!.block).toBeNull();
    expect(calibrate(run, { ...settings, benchTemperatureC: 30 }).result!.block).not.toBeNull();
  });

  it("no uncertainty of the reference: none is stated", () => {
    const made = calibrateInvented(3, {}, {}, { reference: null });
    expect(codesOf(made)).toEqual(["contribution-unknown"]);
    expect(made.result!.budget.expandedPa).toBeNull();
  });

  it("pressures that begin far above zero: told", () => {
    expect(codesOf(calibrateInvented(3, {}, { levelsMmhg: [40, 60, 80, 100] }))).toContain("zero-not-covered");
  });

  it("a curve that the model cannot follow: told, and in the budget", () => {
    const rows = inventRows(3, { ...truth, halfLoopPa: 1 }).map((row) => {
      const bump = row.referencePa > 4000 && row.referencePa < 6000 ? 40 * 128 : 0;
      return { ...row, sensorRaw: row.sensorRaw + bump };
    });
    const csv = `${HEADER}\n${rows.map((row) => [row.timeS, row.cycle, row.direction, row.step, row.referencePa / 133.322387415, row.sensorRaw, row.temperatureC, row.ambientRaw].join(",")).join("\n")}\n`;
    const made = calibrate(parseBenchRun(csv, asColumnsSay), settings);
    expect(codesOf(made)).toEqual(["fit-lacking"]);
    const lack = made.result!.budget.contributions.find(({ id }) => id === "lack_of_fit")!;
    expect(lack.standardUncertaintyPa).toBeGreaterThan(10);
  });
});

describe("a barometer 3 m above the tag", () => {
  it("reads 36 Pa too low, which does not go into the offset", () => {
    const [low, level] = [3, 0].map((barometerAboveM) => calibrateInvented(3, {}, {}, { barometerAboveM }).result!);
    const offsets = [low!, level!].map(({ choice }) => choice.fit.coefficients.offset);
    // 12.01 Pa a metre at sea level.
    expect(offsets[0]! - offsets[1]!).toBeCloseTo(3 * 12.01, 0);
  });
});
