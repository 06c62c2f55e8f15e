/** A check of a calibrated tag against a reference: every point's error against what the uncertainties allow. */
import { type Coefficients, type DecodedRecord, physicalOf, rawOf } from "../../protocol/index.ts";
import { type BenchPoint, pointsOf } from "./bench-points.ts";
import type { BenchRow } from "./bench-run.ts";
import { blockReadingPa } from "./block.ts";

export interface CheckedPoint {
  readonly point: BenchPoint;
  /** Null: refused by the arithmetic. */
  readonly readingPa: number | null;
  readonly errorPa: number | null;
  /** Root sum of squares of the expanded uncertainties (k = 2) of block, ambient and reference; null: one is not known. */
  readonly allowedPa: number | null;
  /** |error| over what is allowed: above 1 the tag has moved; null where either is not known. */
  readonly ratio: number | null;
  /** Outside the pressures or temperatures that the calibration covered. */
  readonly uncovered: boolean;
}

export interface CheckUncertainties {
  readonly reference: { readonly expandedPa: number; readonly expandedShare: number } | null;
  readonly ambientExpandedPa: number | null;
}

export function checkRows(
  rows: readonly BenchRow[],
  block: DecodedRecord,
  uncertainties: CheckUncertainties,
): CheckedPoint[] {
  const coefficients: Coefficients = {
    offset: rawOf(block, "offset"),
    gain: rawOf(block, "gain"),
    temperatureEffect: rawOf(block, "temperature_effect"),
    gainTemperature: rawOf(block, "gain_temperature"),
    curvature: rawOf(block, "curvature"),
    referenceTemperature: rawOf(block, "reference_temperature"),
  };
  const { reference, ambientExpandedPa } = uncertainties;
  const own = physicalOf(block, "expanded_uncertainty");
  const [low, high, spanHpa] = ["temperature_low", "temperature_high", "span"].map((id) => physicalOf(block, id)!);
  return pointsOf(rows).map((point) => {
    const readingPa = blockReadingPa(point, coefficients);
    const errorPa = readingPa === null ? null : readingPa - point.referencePa;
    const ofReference = reference && reference.expandedPa + reference.expandedShare * Math.abs(point.referencePa);
    const known = own !== null && ofReference !== null && ambientExpandedPa !== null;
    const allowedPa = known ? Math.hypot(own, ofReference, ambientExpandedPa) : null;
    const { temperatureC } = point;
    return {
      point,
      readingPa,
      errorPa,
      allowedPa,
      ratio: errorPa === null || allowedPa === null ? null : Math.abs(errorPa) / allowedPa,
      uncovered:
        (temperatureC !== null && (temperatureC < low! - 0.5 || temperatureC > high! + 0.5)) ||
        point.referencePa > spanHpa! * 100 + 100,
    };
  });
}
