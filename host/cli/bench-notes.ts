/** What the notes at the head of a bench run say, where no option says otherwise. */
import type { CalibrationSettings } from "../calibrate/bench-calibration.ts";
import type { BenchRun } from "../calibrate/bench-run.ts";
import { numberOption } from "./number-option.ts";
import { pressureOption, uncertaintyOption } from "./quantity-option.ts";

export interface UncertaintyOptions {
  readonly referenceUncertainty?: string;
  readonly ambientUncertainty?: string;
}

/** A note that is a number from 0 to `high`; null where there is none. Throws a CommandError at anything else. */
export function notedNumber({ notes }: BenchRun, key: string, high: number): number | null {
  const text = notes.get(key);
  return text === undefined ? null : numberOption(`# ${key}:`, text, 0, high);
}

/** Expanded, k = 2; null where neither says anything. Throws a CommandError at a value that cannot be. */
export function benchUncertainties(
  run: BenchRun,
  { referenceUncertainty, ambientUncertainty }: UncertaintyOptions,
): Pick<CalibrationSettings, "reference" | "ambientExpandedPa"> {
  const referencePa = notedNumber(run, "reference_uncertainty_pa", 1e6);
  const noted = referencePa === null ? null : { expandedPa: referencePa, expandedShare: 0 };
  return {
    reference:
      referenceUncertainty === undefined ? noted : uncertaintyOption("--reference-uncertainty", referenceUncertainty),
    ambientExpandedPa:
      ambientUncertainty === undefined
        ? notedNumber(run, "ambient_uncertainty_pa", 1e6)
        : Math.abs(pressureOption("--ambient-uncertainty", ambientUncertainty)),
  };
}
