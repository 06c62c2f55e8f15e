/** QR decomposition by Householder reflections, in double-double. */
import {
  add,
  type DoubleDouble,
  divide,
  dot,
  fromNumber,
  multiply,
  negate,
  squareRoot,
  subtract,
  ZERO,
} from "./double-double.ts";

type Vector = DoubleDouble[];

export interface Triangular {
  /** Upper triangle by rows: `r[i][j]` for j ≥ i, zero elsewhere. */
  readonly r: readonly (readonly DoubleDouble[])[];
  /** Each response multiplied by the transpose of Q; rows beyond the number of columns hold what no column explains. */
  readonly responses: readonly (readonly DoubleDouble[])[];
}

/** Reflects columns to an upper triangle and the responses with them. Columns are at least as long as there are columns. */
export function triangularise(
  columns: readonly (readonly DoubleDouble[])[],
  responses: readonly (readonly DoubleDouble[])[],
): Triangular {
  const a: Vector[] = columns.map((column) => [...column]);
  const y: Vector[] = responses.map((response) => [...response]);
  const p = a.length;
  const diagonal: DoubleDouble[] = [];
  for (let k = 0; k < p; k++) {
    const v = a[k]!.slice(k);
    const length = squareRoot(dot(v, v));
    // The sign is chosen so that nothing cancels.
    const head = v[0]![0] > 0 ? negate(length) : length;
    diagonal.push(head);
    if (length[0] === 0) continue;
    v[0] = subtract(v[0]!, head);
    const half = divide(dot(v, v), fromNumber(2));
    for (const vector of [...a.slice(k + 1), ...y]) reflect(vector, v, half, k);
  }
  const r = Array.from({ length: p }, (_, i) =>
    Array.from({ length: p }, (_, j) => (i === j ? diagonal[i]! : j > i ? a[j]![i]! : ZERO)),
  );
  return { r, responses: y };
}

function reflect(vector: Vector, v: Vector, half: DoubleDouble, from: number): void {
  const factor = divide(dot(vector.slice(from), v), half);
  for (let i = 0; i < v.length; i++) vector[from + i] = subtract(vector[from + i]!, multiply(factor, v[i]!));
}

/** Solves R x = y for an upper triangle without a zero on its diagonal. */
export function backSubstitute(r: Triangular["r"], y: readonly DoubleDouble[]): DoubleDouble[] {
  const p = r.length;
  const x: DoubleDouble[] = new Array(p).fill(ZERO);
  for (let i = p - 1; i >= 0; i--) {
    let rest = y[i]!;
    for (let j = i + 1; j < p; j++) rest = subtract(rest, multiply(r[i]![j]!, x[j]!));
    x[i] = divide(rest, r[i]![i]!);
  }
  return x;
}

/** Inverse of an upper triangle, by rows. */
export function invertTriangle(r: Triangular["r"]): DoubleDouble[][] {
  const p = r.length;
  const columns = Array.from({ length: p }, (_, k) =>
    backSubstitute(
      r,
      Array.from({ length: p }, (_, i) => (i === k ? fromNumber(1) : ZERO)),
    ),
  );
  return Array.from({ length: p }, (_, i) => columns.map((column) => column[i]!));
}

/** Squared length of a vector from an index on. */
export function squaredRest(vector: readonly DoubleDouble[], from: number): DoubleDouble {
  let total = ZERO;
  for (let i = from; i < vector.length; i++) total = add(total, multiply(vector[i]!, vector[i]!));
  return total;
}
