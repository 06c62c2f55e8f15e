/** Whether a tag runs, in one of three words. */
import type { PowerFigures } from "./figures.ts";

/** `never`: no frame will come. `falters`: frames come, but not one for every sampling period. `runs`: one for every period. */
export type RunVerdict = "runs" | "falters" | "never";

export function runVerdict({ firstFrame, rate, askedPerS, lossesPerMinute }: PowerFigures): RunVerdict {
  if (!("value" in firstFrame)) return "never";
  // The search for the rate ends within half a percent.
  const keepsUp = "value" in rate && rate.value >= askedPerS * 0.995;
  return keepsUp && lossesPerMinute === 0 ? "runs" : "falters";
}
