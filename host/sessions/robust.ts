/** Statistics that a few wild values do not move. */

/** Median; NaN of nothing. */
export function median(values: readonly number[]): number {
  return quantile(values, 0.5);
}

/** Quantile by straight line between order statistics (type 7 of Hyndman and Fan, 1996); NaN of nothing. */
export function quantile(values: readonly number[], share: number): number {
  if (values.length === 0) return Number.NaN;
  const sorted = Float64Array.from(values).sort();
  const at = (sorted.length - 1) * share;
  const low = Math.floor(at);
  const high = Math.min(low + 1, sorted.length - 1);
  return sorted[low]! + (at - low) * (sorted[high]! - sorted[low]!);
}

/** Median absolute deviation times 1.4826: the standard deviation where the values are normal. */
export function robustSpread(values: readonly number[]): number {
  const centre = median(values);
  return 1.4826 * median(values.map((value) => Math.abs(value - centre)));
}

/** Points more than this are thinned before the slope is sought: its cost grows with the square. */
const SLOPE_POINTS = 200;

/** Theil-Sen slope: the median of the slopes of all pairs; null with fewer than two different times. */
export function robustSlope(times: readonly number[], values: readonly number[]): number | null {
  const step = Math.max(1, Math.ceil(times.length / SLOPE_POINTS));
  const picked = times.flatMap((_, i) => (i % step === 0 ? [i] : []));
  const slopes: number[] = [];
  for (const [k, i] of picked.entries()) {
    for (const j of picked.slice(k + 1)) {
      if (times[j] !== times[i]) slopes.push((values[j]! - values[i]!) / (times[j]! - times[i]!));
    }
  }
  return slopes.length === 0 ? null : median(slopes);
}
