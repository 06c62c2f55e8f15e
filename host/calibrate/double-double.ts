/**
 * Numbers of twice the precision of a double, as an unevaluated sum of two doubles (about 31 decimal digits).
 * Sums and products by Knuth and Dekker: Dekker, "A floating-point technique for extending the available precision",
 * Numerische Mathematik 18 (1971) 224.
 */

/** `[high, low]`, |low| at most half a unit in the last place of high. */
export type DoubleDouble = readonly [high: number, low: number];

export const ZERO: DoubleDouble = [0, 0];

export function fromNumber(value: number): DoubleDouble {
  return [value, 0];
}

export function toNumber([high, low]: DoubleDouble): number {
  return high + low;
}

export function add([ah, al]: DoubleDouble, [bh, bl]: DoubleDouble): DoubleDouble {
  const [s, e] = twoSum(ah, bh);
  const [t, f] = twoSum(al, bl);
  const [h, l] = quickTwoSum(s, e + t);
  return quickTwoSum(h, l + f);
}

export function negate([high, low]: DoubleDouble): DoubleDouble {
  return [-high, -low];
}

export function subtract(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  return add(a, negate(b));
}

export function multiply([ah, al]: DoubleDouble, [bh, bl]: DoubleDouble): DoubleDouble {
  const [p, e] = twoProduct(ah, bh);
  return quickTwoSum(p, e + (ah * bl + al * bh));
}

export function divide(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const first = a[0] / b[0];
  const rest = subtract(a, multiply(b, fromNumber(first)));
  const second = rest[0] / b[0];
  const last = subtract(rest, multiply(b, fromNumber(second)));
  return add(quickTwoSum(first, second), fromNumber(last[0] / b[0]));
}

/** Square root of a number that is not negative. */
export function squareRoot(a: DoubleDouble): DoubleDouble {
  if (a[0] === 0) return ZERO;
  const root = Math.sqrt(a[0]);
  const rest = subtract(a, multiply(fromNumber(root), fromNumber(root)));
  return add(fromNumber(root), fromNumber(rest[0] / (2 * root)));
}

export function sum(values: readonly DoubleDouble[]): DoubleDouble {
  return values.reduce(add, ZERO);
}

/** Scalar product of two vectors of equal length. */
export function dot(a: readonly DoubleDouble[], b: readonly DoubleDouble[]): DoubleDouble {
  let total = ZERO;
  for (let i = 0; i < a.length; i++) total = add(total, multiply(a[i]!, b[i]!));
  return total;
}

function twoSum(a: number, b: number): DoubleDouble {
  const s = a + b;
  const v = s - a;
  return [s, a - (s - v) + (b - v)];
}

function quickTwoSum(a: number, b: number): DoubleDouble {
  const s = a + b;
  return [s, b - (s - a)];
}

const SPLITTER = 134_217_729;

function twoProduct(a: number, b: number): DoubleDouble {
  const p = a * b;
  const ta = SPLITTER * a;
  const ah = ta - (ta - a);
  const al = a - ah;
  const tb = SPLITTER * b;
  const bh = tb - (tb - b);
  const bl = b - bh;
  return [p, ah * bh - p + ah * bl + al * bh + al * bl];
}
