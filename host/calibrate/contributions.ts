/** The contributions to the uncertainty of a later reading, each from what the bench run showed or what was stated. */
import type { Coefficients } from "../../protocol/index.ts";
import type { BenchErrors } from "./bench-errors.ts";
import { quantisationErrorPa } from "./block.ts";
import { type Contribution, type ContributionId, normal, rectangular, unknown } from "./budget.ts";
import { type CellFit, type CellInput, cellReading, fitUncertaintyPa, inputAt } from "./cell-model.ts";
import { effectiveDegreesOfFreedom } from "./distributions.ts";
import type { LackOfFit } from "./regression.ts";
import { sealedGasRisePa } from "./temperature-alone.ts";

export interface UncertaintySettings {
  /** Expanded (k = 2), from the reference's certificate: a fixed part and a share of the reading; null: not stated. */
  readonly reference: { readonly expandedPa: number; readonly expandedShare: number } | null;
  /** Expanded (k = 2), of the barometer at the bench; null: not stated. */
  readonly ambientExpandedPa: number | null;
  /** Largest drift of the sensor a year; null: the class value is assumed. */
  readonly driftPaPerYear: number | null;
  /** Months the calibration is to last; null: not limited, and the drift is that of a year. */
  readonly validityMonths: number | null;
  /** Half widths given for contributions that the bench run does not show, Pa. */
  readonly assumed: ReadonlyMap<ContributionId, number>;
}

/** Drift of a sensor of this class is 0.1 to 1 hPa a year: a class value from memory. */
export const ASSUMED_DRIFT_PA_PER_YEAR = 50;

/** Difference between the sensor's temperature and that of the air in the cell: assumed. */
export const ASSUMED_GRADIENT_K = 0.5;

/** Steps of the tag's words. */
const PRESSURE_STEP_PA = 1 / 128;
const TEMPERATURE_STEP_K = 0.01;

export interface ContributionBasis {
  readonly fit: CellFit;
  readonly errors: BenchErrors;
  readonly lack: LackOfFit | null;
  /** Points in each group of replicates, on average. */
  readonly groupSize: number;
  /** Null: a coefficient does not fit its field. */
  readonly coefficients: Coefficients | null;
  readonly ambientPa: number;
  /** Null: no temperature is known. */
  readonly temperatureRangeC: readonly [low: number, high: number] | null;
  readonly pressureRangePa: readonly [low: number, high: number];
}

/** All contributions, in the order in which a certificate lists them. */
export function contributionsOf(basis: ContributionBasis, settings: UncertaintySettings): Contribution[] {
  const found = [
    reference(basis, settings),
    ofFit(basis),
    lackOfFitPart(basis),
    resolution(basis),
    repeatabilityPart(basis),
    hysteresisPart(basis),
    creepPart(basis),
    temperature(basis),
    ambientPart(basis, settings),
    drift(basis, settings),
    quantisation(basis),
  ];
  return found.flatMap((contribution) => {
    const given = contribution && settings.assumed.get(contribution.id);
    if (given !== null && given !== undefined) {
      return [rectangular(contribution!.id, "stated", given, `half width given by whoever calibrates`)];
    }
    return contribution ?? [];
  });
}

/** Readings over the range of pressures and temperatures that was covered. */
export function inputsOf({
  fit,
  ambientPa,
  temperatureRangeC,
  pressureRangePa: [low, high],
}: ContributionBasis): CellInput[] {
  const temperatures =
    temperatureRangeC === null ? [null] : [temperatureRangeC[0], fit.referenceC, temperatureRangeC[1]];
  const shares = Array.from({ length: 21 }, (_, i) => i / 20);
  return temperatures.flatMap((temperatureC) =>
    shares.map((share) => inputAt(low + share * (high - low), temperatureC, ambientPa, fit)),
  );
}

function reference({ pressureRangePa: [, high] }: ContributionBasis, { reference }: UncertaintySettings): Contribution {
  if (reference === null) return unknown("reference", "uncertainty of the reference not stated");
  const expanded = reference.expandedPa + reference.expandedShare * high;
  const note = `expanded (k = 2) ${expanded.toPrecision(3)} Pa at the highest pressure, from its certificate`;
  return normal("reference", "stated", expanded / 2, note);
}

function ofFit(basis: ContributionBasis): Contribution {
  const { degreesOfFreedom } = basis.fit.regression;
  if (degreesOfFreedom === 0) return unknown("fit", "as many coefficients as points: nothing left to judge them by");
  const worst = Math.max(...inputsOf(basis).map((input) => fitUncertaintyPa(basis.fit, input)));
  return normal("fit", "measured", worst, "of the fitted function, where it is largest", degreesOfFreedom);
}

function lackOfFitPart({ fit, lack, groupSize }: ContributionBasis): Contribution | null {
  if (lack?.f === null || lack === null) return null;
  const [dof] = lack.f.degreesOfFreedom;
  const excess = lack.lackOfFitSumOfSquares / dof - lack.pureErrorSd ** 2;
  const u = Math.sqrt(Math.max(0, excess) / groupSize);
  return normal(
    "lack_of_fit",
    "measured",
    u,
    `what ${fit.terms.length} coefficients leave over beyond the scatter`,
    dof,
  );
}

function resolution({ fit, temperatureRangeC }: ContributionBasis): Contribution {
  const { gain, temperature_effect: effect } = fit.coefficients;
  const warm = temperatureRangeC === null ? 0 : (Math.abs(effect) * TEMPERATURE_STEP_K) / 2;
  const half = (PRESSURE_STEP_PA / 2 + warm) * gain;
  return rectangular("resolution", "specified", half, "half a step of the tag's pressure and temperature words");
}

function repeatabilityPart({ errors, fit }: ContributionBasis): Contribution {
  const { repeatability, singleReading } = errors;
  const parts = [repeatability, singleReading].flatMap((part) => (part ? [part] : []));
  if (repeatability === null) {
    const { residualSd, degreesOfFreedom } = fit.regression;
    if (degreesOfFreedom === 0) return unknown("repeatability", "nothing was repeated");
    const u = Math.hypot(residualSd, singleReading?.sd ?? 0);
    const note = "scatter about the fit, for no point was repeated the same way";
    return normal("repeatability", "measured", u, note, degreesOfFreedom);
  }
  const u = Math.hypot(...parts.map(({ sd }) => sd));
  const dof =
    singleReading === null
      ? repeatability.degreesOfFreedom
      : effectiveDegreesOfFreedom(
          parts.map(({ sd, degreesOfFreedom }) => ({ standardUncertainty: sd, degreesOfFreedom })),
        );
  const note = singleReading ? "cycle to cycle, and single readings within a step" : "cycle to cycle";
  return normal("repeatability", "measured", u, note, dof);
}

function hysteresisPart({ errors }: ContributionBasis): Contribution {
  if (errors.hysteresis === null) return unknown("hysteresis", "no pressure was reached both ways");
  return rectangular(
    "hysteresis",
    "measured",
    errors.hysteresis.value / 2,
    "half the largest loop: a reading may lie on either side",
  );
}

function creepPart({ errors }: ContributionBasis): Contribution | null {
  if (errors.creeps.length === 0) return null;
  const worst = [...errors.creeps].sort((a, b) => Math.abs(b.value) - Math.abs(a.value))[0]!;
  const note = `largest change over a hold (${worst.durationS.toFixed(0)} s)`;
  return rectangular("creep", "measured", Math.abs(worst.value), note);
}

function temperature(basis: ContributionBasis): Contribution {
  const { fit, temperatureRangeC, ambientPa } = basis;
  if (temperatureRangeC === null) return unknown("temperature", "no temperature is known");
  if (!fit.terms.includes("temperature_effect")) {
    const half = Math.max(0.5, (temperatureRangeC[1] - temperatureRangeC[0]) / 2);
    const bound = sealedGasRisePa(ambientPa, fit.referenceC, fit.referenceC + half) * fit.coefficients.gain;
    const note = `no temperature effect found: bound of a rigid sealed cell over ±${half.toFixed(1)} K`;
    return rectangular("temperature", "assumed", bound, note);
  }
  const slopes = inputsOf(basis).map((input) => {
    const at = (kelvin: number) =>
      cellReading({ ...input, temperatureC: input.temperatureC! + kelvin }, fit.coefficients, fit.referenceC).gaugePa;
    return Math.abs(at(0.5) - at(-0.5));
  });
  const note = `sensor and air in the cell ±${ASSUMED_GRADIENT_K} K apart (assumed), through the fitted temperature terms`;
  return rectangular("temperature", "assumed", Math.max(...slopes) * ASSUMED_GRADIENT_K, note);
}

function ambientPart({ fit }: ContributionBasis, { ambientExpandedPa }: UncertaintySettings): Contribution {
  if (ambientExpandedPa === null)
    return unknown("ambient_at_calibration", "uncertainty of the bench's barometer not stated");
  const u = (ambientExpandedPa / 2) * fit.coefficients.gain;
  const note = `barometer at the bench, expanded (k = 2) ${ambientExpandedPa} Pa, through the offset`;
  return normal("ambient_at_calibration", "stated", u, note);
}

function drift({ fit }: ContributionBasis, { driftPaPerYear, validityMonths }: UncertaintySettings): Contribution {
  const perYear = driftPaPerYear ?? ASSUMED_DRIFT_PA_PER_YEAR;
  const months = validityMonths ?? 12;
  const half = ((perYear * months) / 12) * fit.coefficients.gain;
  const origin = driftPaPerYear === null ? "assumed" : "stated";
  const note = `${perYear} Pa a year${driftPaPerYear === null ? " (class value, from memory)" : ""}, over ${months} months`;
  return rectangular("drift", origin, half, note);
}

function quantisation(basis: ContributionBasis): Contribution {
  const { fit, coefficients } = basis;
  if (coefficients === null) return unknown("quantisation", "a coefficient does not fit its field");
  const error = quantisationErrorPa(fit, coefficients, inputsOf(basis));
  return rectangular(
    "quantisation",
    "specified",
    error,
    "largest effect of the block's rounded coefficients and integer arithmetic",
  );
}
