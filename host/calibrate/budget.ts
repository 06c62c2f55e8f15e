/** Uncertainty of a later reading by the GUM: every contribution with its origin, combined and expanded. */
import { coverageFactor, effectiveDegreesOfFreedom } from "./distributions.ts";

export type ContributionId =
  | "reference"
  | "fit"
  | "lack_of_fit"
  | "resolution"
  | "repeatability"
  | "hysteresis"
  | "creep"
  | "temperature"
  | "ambient_at_calibration"
  | "drift"
  | "quantisation";

export type Distribution = "normal" | "rectangular";

/** Where a figure comes from. */
export type Origin =
  /** From the bench run. */
  | "measured"
  /** Given by whoever calibrates, from a certificate or data sheet. */
  | "stated"
  /** Nobody said: a class value from memory, to be replaced. */
  | "assumed"
  /** From the specification of the tag's words. */
  | "specified"
  /** Nothing is known of it. */
  | "unknown";

export interface Contribution {
  readonly id: ContributionId;
  readonly origin: Origin;
  readonly distribution: Distribution;
  /** Half width of a rectangular distribution, Pa; null for a normal one and where nothing is known. */
  readonly halfWidthPa: number | null;
  /** Null: not known; no expanded uncertainty can then be stated. */
  readonly standardUncertaintyPa: number | null;
  readonly degreesOfFreedom: number;
  readonly note: string;
}

export interface Budget {
  readonly contributions: readonly Contribution[];
  /** Null when a contribution is not known. */
  readonly combinedPa: number | null;
  readonly effectiveDegreesOfFreedom: number;
  /** Factor for 95.45 % at these degrees of freedom. */
  readonly coverageFactor: number;
  /** Combined times 2, or times the coverage factor where few degrees of freedom make that larger; null when not known. */
  readonly expandedPa: number | null;
}

/** Coverage probability of k = 2 for a normal distribution. */
const COVERAGE = 0.9545;

export function normal(
  id: ContributionId,
  origin: Origin,
  standardUncertaintyPa: number,
  note: string,
  degreesOfFreedom = Number.POSITIVE_INFINITY,
): Contribution {
  return { id, origin, distribution: "normal", halfWidthPa: null, standardUncertaintyPa, degreesOfFreedom, note };
}

export function rectangular(id: ContributionId, origin: Origin, halfWidthPa: number, note: string): Contribution {
  const standardUncertaintyPa = halfWidthPa / Math.sqrt(3);
  const degreesOfFreedom = Number.POSITIVE_INFINITY;
  return { id, origin, distribution: "rectangular", halfWidthPa, standardUncertaintyPa, degreesOfFreedom, note };
}

export function unknown(id: ContributionId, note: string): Contribution {
  const nothing = { halfWidthPa: null, standardUncertaintyPa: null, degreesOfFreedom: Number.POSITIVE_INFINITY };
  return { id, origin: "unknown", distribution: "normal", ...nothing, note };
}

/** Root sum of squares of independent contributions, with effective degrees of freedom by Welch and Satterthwaite. */
export function combine(contributions: readonly Contribution[]): Budget {
  const known = contributions.flatMap(({ standardUncertaintyPa, degreesOfFreedom }) =>
    standardUncertaintyPa === null ? [] : [{ standardUncertainty: standardUncertaintyPa, degreesOfFreedom }],
  );
  const dof = effectiveDegreesOfFreedom(known);
  const factor = coverageFactor(COVERAGE, dof);
  const combined = Math.sqrt(known.reduce((total, { standardUncertainty }) => total + standardUncertainty ** 2, 0));
  const complete = known.length === contributions.length;
  return {
    contributions,
    combinedPa: complete ? combined : null,
    effectiveDegreesOfFreedom: dof,
    coverageFactor: factor,
    expandedPa: complete ? Math.max(2, factor) * combined : null,
  };
}
