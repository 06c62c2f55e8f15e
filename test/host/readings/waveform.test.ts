import { describe, expect, it } from "vitest";
import { toPascal } from "../../../host/readings/pressure.ts";
import { ReadingStream } from "../../../host/readings/reading-stream.ts";
import { layout } from "../../../protocol/index.ts";
import { burst, calibration, calibrations, report, service, torn, wordsOf } from "./tag-words.ts";

const AMBIENT = 12_969_600;

function waveformOf(block: readonly number[], memory = calibration(), times = 1) {
  const session = { started: "2026-03-04T09:00:00Z", barometerUncertaintyPa: 80 };
  const stream = new ReadingStream(layout, session, { kind: "kit_barometer" });
  stream.push({ kind: "ambient", kitTimeUs: 9_500_000, pressureRaw: AMBIENT, temperatureC: null });
  stream.push(calibrations(memory));
  stream.push(service());
  const outcomes = Array.from({ length: times }, () => stream.push(report(72, wordsOf(block)))).flat();
  return { last: outcomes.at(-1)!, counts: stream.counts };
}

describe("a burst", () => {
  it("gives calibrated gauge samples, half a pascal a step from the block's pressure", () => {
    const samples = [0, 1, -1, 4000, -32_768];
    const { last, counts } = waveformOf(burst({ samples, base: AMBIENT + 12_800 }), calibration({ gain: 2_097_152 }));
    if (last.kind !== "waveform") throw new Error(last.kind);
    // Base 100 Pa above ambient, gain 2.
    expect(last.gauge.map((sample) => sample && toPascal(sample))).toEqual([200, 201, 199, 4200, null]);
    expect(last.timesS).toEqual([0, 0.04, 0.08, 0.12, 0.16]);
    expect(last).toMatchObject({ intervalS: 0.04, sequence: 100, temperatureC: 30, expandedUncertaintyPa: 100 });
    expect(last.quality).toEqual(["first_sight"]);
    expect(counts).toMatchObject({ waveforms: 1, readings: 1 });
  });

  it("of full length fills 25 places; one cut short by its count fewer", () => {
    const samples = Array.from({ length: 25 }, (_, i) => i);
    const [full, half] = [waveformOf(burst({ samples })).last, waveformOf(burst({ samples, count: 12 })).last];
    expect(full.kind === "waveform" && full.gauge.length).toBe(25);
    expect(half.kind === "waveform" && half.gauge.length).toBe(12);
  });

  it("with a sample at the end of its range has no uncertainty", () => {
    const { last } = waveformOf(burst({ samples: [32_767], base: AMBIENT - 3000 * 128 }));
    expect(last).toMatchObject({ expandedUncertaintyPa: null, quality: ["sample_at_limit", "first_sight"] });
  });

  it("without a base pressure has no samples", () => {
    const { last } = waveformOf(burst({ samples: [1, 2], base: 16_777_215 }));
    expect(last).toMatchObject({ absolute: [null, null], gauge: [null, null], expandedUncertaintyPa: null });
    expect(last.kind === "waveform" && last.quality).toContain("pressure_not_measured");
  });

  it("read again is repeated", () => {
    const { last } = waveformOf(burst({ samples: [1] }), calibration(), 2);
    expect(last.kind === "waveform" && last.quality).toContain("repeated");
  });

  it.each([
    ["torn", torn(burst({ samples: [1] }), 20), "checksum-mismatch"],
    ["never written", new Array(64).fill(0), "record-empty"],
    ["of 26 samples", burst({ samples: [1], count: 26 }), "value-out-of-range"],
    ["cut short", burst({ samples: [1] }).slice(0, 40), "record-too-short"],
  ])("%s gives the reason", (_name, block, reason) => {
    const { last, counts } = waveformOf(block as number[]);
    expect(last).toMatchObject({ kind: "unread", reason });
    expect(counts.unread).toEqual({ [reason]: 1 });
  });
});
