/** Where a pressure lies against the range its user chose. */

/** In mmHg, ends included; low is below high. */
export interface Range {
  readonly lowMmhg: number;
  readonly highMmhg: number;
}

/** `edge`: with its uncertainty it reaches over an end, so that the measurement cannot tell. */
export interface Verdict {
  readonly place: "inside" | "below" | "above" | "edge";
  /** Distance of the value from the nearer end when below or above; else 0. */
  readonly byMmhg: number;
}

/** Null without a range, and without an uncertainty: nobody can say where it lies then. */
export function verdictOf(
  gaugeMmhg: number | null,
  uncertaintyMmhg: number | null,
  range: Range | null,
): Verdict | null {
  if (gaugeMmhg === null || uncertaintyMmhg === null || range === null) return null;
  const [least, most] = [gaugeMmhg - uncertaintyMmhg, gaugeMmhg + uncertaintyMmhg];
  if (least >= range.lowMmhg && most <= range.highMmhg) return { place: "inside", byMmhg: 0 };
  if (most < range.lowMmhg) return { place: "below", byMmhg: range.lowMmhg - gaugeMmhg };
  if (least > range.highMmhg) return { place: "above", byMmhg: gaugeMmhg - range.highMmhg };
  return { place: "edge", byMmhg: 0 };
}

/** Highest pressure that can be chosen. */
export const RANGE_LIMIT_MMHG = 200;

/** A range from two typed numbers; null when they are none or the wrong way round. */
export function rangeOf(lowMmhg: number, highMmhg: number): Range | null {
  const good = lowMmhg >= 0 && highMmhg > lowMmhg && highMmhg <= RANGE_LIMIT_MMHG;
  return good ? { lowMmhg, highMmhg } : null;
}
