/**
 * The physical model of protocol/COMPENSATION.md with unrounded coefficients, and its fit to bench points: offset and
 * temperature effect belong to the sensor and act on the absolute pressure; gain, its temperature term and curvature belong
 * to the cell and act on the difference from ambient.
 */
import { type Regression, regress } from "./regression.ts";

export const termIds = ["offset", "gain", "temperature_effect", "gain_temperature", "curvature"] as const;
export type TermId = (typeof termIds)[number];

/** Pa, 1, Pa/K, 1/K, 1/Pa. */
export type CellCoefficients = { readonly [term in TermId]: number };

export interface CellInput {
  readonly sensorPa: number;
  /** Null: temperature terms are left out. */
  readonly temperatureC: number | null;
  readonly ambientPa: number;
}

export interface CellPoint extends CellInput {
  readonly referencePa: number;
}

/** As designed: nothing to correct. */
export const DESIGNED: CellCoefficients = {
  offset: 0,
  gain: 1,
  temperature_effect: 0,
  gain_temperature: 0,
  curvature: 0,
};

/** Gauge pressure of a reading, and how it changes with each coefficient. */
export function cellReading(
  { sensorPa, temperatureC, ambientPa }: CellInput,
  c: CellCoefficients,
  referenceC: number,
): { readonly gaugePa: number; readonly slopes: { readonly [term in TermId]: number } } {
  const t = temperatureC === null ? 0 : temperatureC - referenceC;
  const difference = sensorPa + c.offset - c.temperature_effect * t - ambientPa;
  const gain = c.gain * (1 + c.gain_temperature * t);
  const linear = difference * gain;
  const bend = 1 + 2 * c.curvature * linear;
  return {
    gaugePa: linear * (1 + c.curvature * linear),
    slopes: {
      offset: gain * bend,
      gain: difference * (1 + c.gain_temperature * t) * bend,
      temperature_effect: -t * gain * bend,
      gain_temperature: difference * c.gain * t * bend,
      curvature: linear * linear,
    },
  };
}

export interface CellFit {
  readonly terms: readonly TermId[];
  readonly coefficients: CellCoefficients;
  readonly referenceC: number;
  /** Linearised at the solution: covariance and the like are those of the terms, in their order. */
  readonly regression: Regression;
  /** Reading less reference, a value a point. */
  readonly errorsPa: readonly number[];
}

const MOST_ITERATIONS = 50;

/** Fits the terms by Gauss-Newton from the design; throws a RegressionError when the points do not carry them. */
export function fitCell(points: readonly CellPoint[], terms: readonly TermId[], referenceC: number, gain = 1): CellFit {
  let coefficients: CellCoefficients = { ...DESIGNED, gain };
  for (let iteration = 0; ; iteration++) {
    const readings = points.map((point) => cellReading(point, coefficients, referenceC));
    const errorsPa = readings.map(({ gaugePa }, i) => gaugePa - points[i]!.referencePa);
    const regression = regress({
      columns: terms.map((term) => readings.map(({ slopes }) => slopes[term])),
      response: errorsPa.map((error) => -error),
      intercept: false,
    });
    const moved = movedPa(regression.coefficients, terms, readings);
    if (moved < 1e-7 || iteration === MOST_ITERATIONS) return { terms, coefficients, referenceC, regression, errorsPa };
    const step = Object.fromEntries(terms.map((term, k) => [term, coefficients[term] + regression.coefficients[k]!]));
    coefficients = { ...coefficients, ...step };
  }
}

/** Standard uncertainty of the fitted function at a reading, from the scatter of the bench points. */
export function fitUncertaintyPa({ terms, coefficients, referenceC, regression }: CellFit, input: CellInput): number {
  const { slopes } = cellReading(input, coefficients, referenceC);
  const row = terms.map((term) => slopes[term]);
  const variance = row.reduce(
    (total, a, i) => total + row.reduce((part, b, k) => part + a * b * regression.covariance[i]![k]!, 0),
    0,
  );
  return Math.sqrt(variance);
}

/** What the tag would give at a gauge pressure: the model read backwards, by Newton's rule. */
export function inputAt(
  gaugePa: number,
  temperatureC: number | null,
  ambientPa: number,
  { coefficients, referenceC }: Pick<CellFit, "coefficients" | "referenceC">,
): CellInput {
  let sensorPa = ambientPa + gaugePa;
  for (let i = 0; i < MOST_ITERATIONS; i++) {
    const reading = cellReading({ sensorPa, temperatureC, ambientPa }, coefficients, referenceC);
    const step = (gaugePa - reading.gaugePa) / reading.slopes.offset;
    sensorPa += step;
    if (Math.abs(step) < 1e-9) break;
  }
  return { sensorPa, temperatureC, ambientPa };
}

function movedPa(
  steps: readonly number[],
  terms: readonly TermId[],
  readings: readonly { readonly slopes: { readonly [term in TermId]: number } }[],
): number {
  return Math.max(
    ...readings.map(({ slopes }) => Math.abs(terms.reduce((total, term, k) => total + slopes[term] * steps[k]!, 0))),
  );
}
