/**
 * Agreement of two methods: Bland and Altman, Lancet 1986;327:307-310 and Stat Methods Med Res 1999;8:135-160.
 * Difference is the first method minus the second, against the mean of the two.
 */
import { coverageFactor } from "../calibrate/distributions.ts";

export interface Interval95 {
  readonly low: number;
  readonly high: number;
}

export interface Agreement {
  readonly pairs: number;
  readonly bias: number;
  readonly biasInterval: Interval95;
  /** Standard deviation of the differences. */
  readonly deviation: number;
  readonly lowerLimit: number;
  readonly lowerInterval: Interval95;
  readonly upperLimit: number;
  readonly upperInterval: Interval95;
  /** Correlation of difference and mean: far from 0 when the disagreement grows with the pressure; null without spread. */
  readonly trend: number | null;
}

/** Limits stand this many standard deviations from the bias: 95 % of normal differences. */
export const LIMIT_FACTOR = 1.96;

/** Null with fewer than three pairs. Pairs are taken as independent. */
export function agreementOf(
  pairs: readonly (readonly [first: number, second: number])[],
  limitFactor = LIMIT_FACTOR,
): Agreement | null {
  const n = pairs.length;
  if (n < 3) return null;
  const differences = pairs.map(([a, b]) => a - b);
  const bias = mean(differences);
  const deviation = Math.sqrt(differences.reduce((sum, d) => sum + (d - bias) ** 2, 0) / (n - 1));
  const t = coverageFactor(0.95, n - 1);
  const around = (centre: number, share: number): Interval95 => {
    const reach = t * deviation * Math.sqrt(share);
    return { low: centre - reach, high: centre + reach };
  };
  // Variance of a limit: that of the mean and that of the standard deviation times the factor (Bland and Altman 1999).
  const ofLimit = 1 / n + limitFactor ** 2 / (2 * (n - 1));
  const lowerLimit = bias - limitFactor * deviation;
  const upperLimit = bias + limitFactor * deviation;
  return {
    pairs: n,
    bias,
    biasInterval: around(bias, 1 / n),
    deviation,
    lowerLimit,
    lowerInterval: around(lowerLimit, ofLimit),
    upperLimit,
    upperInterval: around(upperLimit, ofLimit),
    trend: correlation(
      pairs.map(([a, b]) => (a + b) / 2),
      differences,
    ),
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function correlation(x: readonly number[], y: readonly number[]): number | null {
  const [mx, my] = [mean(x), mean(y)];
  const sum = (of: (i: number) => number) => x.reduce((total, _, i) => total + of(i), 0);
  const sxx = sum((i) => (x[i]! - mx) ** 2);
  const syy = sum((i) => (y[i]! - my) ** 2);
  return sxx === 0 || syy === 0 ? null : sum((i) => (x[i]! - mx) * (y[i]! - my)) / Math.sqrt(sxx * syy);
}
