import type { NumberField, RecordSpec } from "../model/vocabulary.ts";
import { kindField, layoutField, sealField } from "./seal.ts";

function counter(id: string, at: number, why: string, bits: readonly [number, number] = [31, 0]): NumberField {
  const top = 2 ** (bits[0] - bits[1] + 1) - 1;
  return {
    id,
    type: "unsigned",
    at,
    container: 32,
    bits,
    unit: "one",
    scale: { num: 1, den: 1 },
    rounding: "half-away-from-zero",
    outOfRange: "saturate",
    range: [0, top - 1],
    sentinels: [{ raw: top, id: "saturated", means: "saturated" }],
    coldStart: "kept",
    why,
  };
}

/** Counters over the tag's life, written to two places in turn like the frame. */
export const counters: RecordSpec = {
  id: "counters",
  title: "Counters",
  why: "What the tag has been through: power, samples, sterilisation.",
  bytes: 16,
  fields: [
    kindField(0, 16, [15, 12], "counters"),
    layoutField(0, 16, [11, 8]),
    {
      id: "reuse_cycles",
      type: "unsigned",
      at: 0,
      container: 16,
      bits: [7, 0],
      unit: "one",
      scale: { num: 1, den: 1 },
      rounding: "half-away-from-zero",
      outOfRange: "saturate",
      range: [0, 254],
      sentinels: [{ raw: 255, id: "saturated", means: "saturated" }],
      coldStart: "kept",
      why: "Most reuse cycles firmware ever found in a calibration block: survives a block that is lost or replaced.",
    },
    counter("cold_starts", 2, "Times the tag started from nothing: how often the field was lost."),
    counter(
      "fruitless_starts",
      6,
      "Cold starts in a row that ended without a frame: a task that needs more energy than the store holds is named.",
      [31, 24],
    ),
    counter(
      "brown_outs",
      6,
      "Times the supply fell below its threshold: says whether the store is large enough.",
      [23, 0],
    ),
    counter("frames", 10, "Frames sealed: with the sequence it shows how many a reader missed."),
    sealField(16),
  ],
};
