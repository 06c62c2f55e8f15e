import { qualities } from "../readings/quality.ts";
import type { PastPoint, TimedReading } from "./messages.ts";

/** The point of a trace that a reading is; null for a repeat, and for a frame that came behind a newer one. */
export function pointOf({ time_s, reading }: TimedReading): PastPoint | null {
  const { epc, sequence, quality, expanded_uncertainty_mmhg } = reading;
  if (quality.includes("repeated") || quality.includes("sequence_back")) return null;
  const invalid = quality.some((id) => qualities[id].severity === "invalid");
  return { epc, sequence, time_s, gauge_mmhg: invalid ? null : reading.gauge_mmhg, expanded_uncertainty_mmhg };
}
