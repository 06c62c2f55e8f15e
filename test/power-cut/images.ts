/** Memory as the workloads find it: a commissioned tag with some history, all of it invented. */
import { layout } from "../../protocol/index.ts";
import { Cells } from "../../sim/bridge/cells.ts";
import { recordWords } from "../../sim/tag/words.ts";

export const calibrationOld = recordWords("calibration", {
  method: 3,
  date: 2190,
  sensor_serial: 40_001,
  reuse_since: 1,
  reuse_count: 4,
  offset: -15_104,
  reuse_limit: 20,
  gain: 1_127_501,
  temperature_effect: 416,
  gain_temperature: -400,
  curvature: 600,
  reference_temperature: 2500,
  expanded_uncertainty: 48,
  temperature_low: 18,
  temperature_high: 42,
  span: 133,
  validity: 24,
});

/** The next calibration of the same tag: one cycle later, every coefficient another. */
export const calibrationNew = recordWords("calibration", {
  method: 2,
  date: 2317,
  sensor_serial: 40_001,
  reuse_since: 0,
  reuse_count: 5,
  offset: -12_077,
  reuse_limit: 20,
  gain: 1_119_402,
  temperature_effect: 431,
  gain_temperature: -377,
  curvature: 540,
  reference_temperature: 2600,
  expanded_uncertainty: 52,
  temperature_low: 17,
  temperature_high: 43,
  span: 130,
  validity: 12,
});

export interface History {
  readonly slotA?: readonly number[];
  readonly slotB?: readonly number[];
  readonly countersA?: readonly number[];
  readonly countersB?: readonly number[];
  readonly burst?: readonly number[];
}

const header = recordWords("header", {
  fingerprint: layout.fingerprint,
  firmware_major: 1,
  firmware_minor: 0,
  sampling_period: 100,
  sensor_serial: 40_001,
});

const noCounts = countersOf({});

export function countersOf(
  counts: Partial<Record<"cold_starts" | "brown_outs" | "frames" | "fruitless_starts", number>>,
) {
  return recordWords("counters", {
    reuse_cycles: 4,
    cold_starts: 0,
    brown_outs: 0,
    frames: 0,
    fruitless_starts: 0,
    ...counts,
  });
}

/** A frame as an earlier life left it. */
export function frameOf(
  sequence: number,
  more: Partial<Record<"status" | "pressure" | "temperature" | "supply" | "uptime", number>> = {},
) {
  return recordWords("frame", {
    status: 0,
    sequence,
    pressure: 12_850_000 + sequence,
    temperature: 2400,
    supply: 2250,
    uptime: 77,
    ...more,
  });
}

export function burstOf(samples: readonly number[]) {
  const raws = { status: 0, sequence: 40, count: 25, pressure: 12_870_011, interval: 40, temperature: 2411 };
  const named = Object.fromEntries(samples.map((sample, i) => [`samples[${i}]`, sample]));
  return recordWords("burst", { ...raws, ...named });
}

/** The USER bank with that history; without any, as it left the bench. */
export function image({ slotA, slotB, countersA = noCounts, countersB = noCounts, burst }: History = {}): Cells {
  const words = new Uint16Array(104);
  words.set(header, 0);
  words.set(slotA ?? [], 8);
  words.set(slotB ?? [], 16);
  words.set(countersA, 24);
  words.set(countersB, 32);
  words.set(calibrationOld, 40);
  words.set(calibrationOld, 56);
  words.set(burst ?? [], 72);
  return new Cells(words);
}
