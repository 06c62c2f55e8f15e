/**
 * Linear least squares with everything a calibration is asked for: Householder QR on centred and scaled columns, carried
 * in double-double so that ill-conditioned columns (high powers, trends) lose no digit that the data have.
 */
import {
  add,
  type DoubleDouble,
  divide,
  dot,
  fromNumber,
  multiply,
  squareRoot,
  subtract,
  sum,
  toNumber,
  ZERO,
} from "./double-double.ts";
import { backSubstitute, invertTriangle, squaredRest, triangularise } from "./householder.ts";

/** Values of one regressor, a row each. */
export type Column = readonly (number | DoubleDouble)[];

export interface RegressionData {
  readonly columns: readonly Column[];
  readonly response: readonly number[];
  /** Whether a constant is fitted before the columns. */
  readonly intercept: boolean;
  /** Relative weights, each above 0: the inverse of a relative variance. All 1 when left out. */
  readonly weights?: readonly number[];
}

export interface Prediction {
  readonly value: number;
  /** Of the fitted function there. */
  readonly standardUncertainty: number;
  /** Of one further response there, of weight 1. */
  readonly singleStandardUncertainty: number;
}

export interface FStatistic {
  readonly value: number;
  readonly degreesOfFreedom: readonly [number, number];
}

export interface Regression {
  /** The constant first when there is one, then in the order of the columns. */
  readonly coefficients: readonly number[];
  readonly standardUncertainties: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  readonly correlations: readonly (readonly number[])[];
  readonly fitted: readonly number[];
  /** Response less fitted value. */
  readonly residuals: readonly number[];
  /** Weighted, about the fit. */
  readonly residualSumOfSquares: number;
  /** 0 when there are as many coefficients as rows: uncertainties are then not-a-number, for nothing is left to find them from. */
  readonly degreesOfFreedom: number;
  readonly residualSd: number;
  /** About the mean with an intercept, about zero without. */
  readonly rSquared: number;
  /** Of all columns together; null when there is no column or no degree of freedom. */
  readonly f: FStatistic | null;
  /** Prediction from the regressors of a row, without the constant. */
  predict(row: readonly (number | DoubleDouble)[]): Prediction;
}

/** Columns that cannot be told apart, or too few rows. */
export class RegressionError extends Error {
  /** Index of the first column that the ones before it already explain; null when rows are too few. */
  readonly column: number | null;
  constructor(sentence: string, column: number | null) {
    super(sentence);
    this.name = "RegressionError";
    this.column = column;
  }
}

/** A column whose part not explained by those before it is smaller than this carries only rounding. */
const COLLINEAR = 1e-14;

/** Fits; throws a RegressionError when rows are too few or columns depend on each other, RangeError for values that cannot be. */
export function regress({ columns, response, intercept, weights }: RegressionData): Regression {
  const n = response.length;
  const p = columns.length + (intercept ? 1 : 0);
  check(columns, response, weights);
  if (p === 0) throw new RegressionError("nothing to fit: no column and no constant", null);
  if (n < p) throw new RegressionError(`${n} rows cannot carry ${p} coefficients`, null);

  const w = (weights ?? new Array<number>(n).fill(1)).map(fromNumber);
  const root = w.map(squareRoot);
  const total = sum(w);
  const mean = (values: readonly DoubleDouble[]) => (intercept ? divide(dot(w, values), total) : ZERO);
  const raw = columns.map((column) => column.map(wide));
  const y = response.map(fromNumber);
  const centres = raw.map(mean);
  const yCentre = mean(y);
  const centred = raw.map((column, j) => column.map((value, i) => multiply(root[i]!, subtract(value, centres[j]!))));
  const scales = centred.map((column) => squareRoot(dot(column, column)));
  const flat = scales.findIndex(([high], j) => high <= COLLINEAR * Math.abs(size(raw[j]!)));
  if (flat >= 0) throw new RegressionError(`column ${flat + 1} does not vary`, flat);
  const scaled = centred.map((column, j) => column.map((value) => divide(value, scales[j]!)));
  const yCentred = y.map((value, i) => multiply(root[i]!, subtract(value, yCentre)));

  const { r, responses } = triangularise(scaled, [yCentred]);
  const dependent = r.findIndex((row, k) => Math.abs(row[k]![0]) < COLLINEAR);
  if (dependent >= 0) {
    throw new RegressionError(`column ${dependent + 1} follows from the columns before it`, dependent);
  }
  const rotated = responses[0]!;
  const b = backSubstitute(r, rotated);
  const dof = n - p;
  const rss = squaredRest(rotated, columns.length);
  const variance = dof > 0 ? divide(rss, fromNumber(dof)) : fromNumber(Number.NaN);
  const totalSquares = dot(yCentred, yCentred);

  // Rows of T give each coefficient as a sum over the orthonormal directions; the constant's own direction comes first.
  const inverse = invertTriangle(r);
  const slopes = inverse.map((row, j) => [ZERO, ...row.map((value) => divide(value, scales[j]!))]);
  const constant = combine(centres, slopes).map((value, k) =>
    k === 0 ? divide(fromNumber(1), squareRoot(total)) : subtract(ZERO, value),
  );
  const directions = intercept ? [constant, ...slopes] : slopes;
  const slopeValues = b.map((value, j) => divide(value, scales[j]!));
  const constantValue = subtract(yCentre, dot(slopeValues, centres));
  const values = intercept ? [constantValue, ...slopeValues] : slopeValues;

  const covariance = directions.map((a) => directions.map((c) => toNumber(multiply(variance, dot(a, c)))));
  const at = (row: readonly DoubleDouble[]) => {
    const z = row.map((value, j) => divide(subtract(value, centres[j]!), scales[j]!));
    const spread = combine(z, inverse);
    const leverage = add(dot(spread, spread), intercept ? divide(fromNumber(1), total) : ZERO);
    return { value: add(yCentre, dot(z, b)), leverage };
  };
  const rows = response.map((_, i) => raw.map((column) => column[i]!));
  const fitted = rows.map((row) => at(row).value);
  const explained = subtract(totalSquares, rss);
  return {
    coefficients: values.map(toNumber),
    standardUncertainties: covariance.map((row, k) => Math.sqrt(row[k]!)),
    covariance,
    correlations: covariance.map((row, i) => row.map((value, k) => value / Math.sqrt(row[i]! * covariance[k]![k]!))),
    fitted: fitted.map(toNumber),
    residuals: fitted.map((value, i) => toNumber(subtract(y[i]!, value))),
    residualSumOfSquares: toNumber(rss),
    degreesOfFreedom: dof,
    residualSd: Math.sqrt(toNumber(variance)),
    rSquared: toNumber(divide(explained, totalSquares)),
    f:
      columns.length === 0 || dof === 0
        ? null
        : {
            value: toNumber(divide(divide(explained, fromNumber(columns.length)), variance)),
            degreesOfFreedom: [columns.length, dof],
          },
    predict: (row) => {
      const { value, leverage } = at(row.map(wide));
      return {
        value: toNumber(value),
        standardUncertainty: Math.sqrt(toNumber(multiply(variance, leverage))),
        singleStandardUncertainty: Math.sqrt(toNumber(multiply(variance, add(leverage, fromNumber(1))))),
      };
    },
  };
}

/** Powers 1 to `degree` of a regressor, with the digits that a double would drop. */
export function powers(x: readonly number[], degree: number): DoubleDouble[][] {
  const columns = [x.map(fromNumber)];
  while (columns.length < degree) columns.push(columns.at(-1)!.map((value, i) => multiply(value, fromNumber(x[i]!))));
  return columns;
}

/**
 * The x at which a straight line (constant and slope) gave the mean of `count` further responses, with its standard
 * uncertainty: scatter of the responses and that of the line, through the slope.
 */
export function inversePrediction(
  line: Regression,
  response: number,
  count = 1,
): Omit<Prediction, "singleStandardUncertainty"> {
  const [constant, slope] = line.coefficients as readonly [number, number];
  const value = (response - constant) / slope;
  const { standardUncertainty } = line.predict([value]);
  return {
    value,
    standardUncertainty: Math.hypot(line.residualSd / Math.sqrt(count), standardUncertainty) / Math.abs(slope),
  };
}

/** What rows that repeat the same regressors say of the scatter, and whether the fit is worse than that. */
export interface LackOfFit {
  /** Scatter of repeated rows about their own means. */
  readonly pureErrorSd: number;
  readonly pureErrorDegreesOfFreedom: number;
  readonly lackOfFitSumOfSquares: number;
  /** Null when there are no more groups than coefficients. */
  readonly f: FStatistic | null;
}

/**
 * Lack of fit from replicates; `groups` holds a key for each row, the same for rows whose regressors are the same, and
 * `repeats` one for rows that are repeats of each other in every respect (the groups again, when left out). Null without a
 * repeat. Weights are not used.
 */
export function lackOfFit(
  fit: Regression,
  response: readonly number[],
  groups: readonly string[],
  repeats: readonly string[] = groups,
): LackOfFit | null {
  const within = withinGroups(response, repeats);
  if (within.degreesOfFreedom === 0) return null;
  const about = withinGroups(response, groups);
  const lack = Math.max(0, fit.residualSumOfSquares - about.squares);
  const lackDof = fit.degreesOfFreedom - about.degreesOfFreedom;
  const pure = within.squares / within.degreesOfFreedom;
  return {
    pureErrorSd: Math.sqrt(pure),
    pureErrorDegreesOfFreedom: within.degreesOfFreedom,
    lackOfFitSumOfSquares: lack,
    f: lackDof < 1 ? null : { value: lack / lackDof / pure, degreesOfFreedom: [lackDof, within.degreesOfFreedom] },
  };
}

function withinGroups(response: readonly number[], keys: readonly string[]) {
  const byKey = new Map<string, number[]>();
  for (const [i, key] of keys.entries()) byKey.set(key, [...(byKey.get(key) ?? []), response[i]!]);
  const squares = toNumber(sum([...byKey.values()].map(squaresAboutMean)));
  return { squares, degreesOfFreedom: response.length - byKey.size };
}

function squaresAboutMean(values: readonly number[]): DoubleDouble {
  const mean = divide(sum(values.map(fromNumber)), fromNumber(values.length));
  const rest = values.map((value) => subtract(fromNumber(value), mean));
  return dot(rest, rest);
}

function wide(value: number | DoubleDouble): DoubleDouble {
  return typeof value === "number" ? [value, 0] : value;
}

function size(column: readonly DoubleDouble[]): number {
  return Math.sqrt(column.reduce((squares, [high]) => squares + high * high, 0));
}

/** Row vector times matrix. */
function combine(row: readonly DoubleDouble[], matrix: readonly (readonly DoubleDouble[])[]): DoubleDouble[] {
  const width = matrix[0]?.length ?? 1;
  return Array.from({ length: width }, (_, k) =>
    row.reduce((total, value, j) => add(total, multiply(value, matrix[j]![k]!)), ZERO),
  );
}

function check(columns: readonly Column[], response: readonly number[], weights: readonly number[] | undefined): void {
  const lengths = [...columns, ...(weights ? [weights] : [])].map(({ length }) => length);
  if (lengths.some((length) => length !== response.length)) throw new RangeError("columns of different length");
  const numbers = [...columns.flat(2), ...response];
  if (!numbers.every(Number.isFinite)) throw new RangeError("a value that is no finite number");
  if (weights && !weights.every((weight) => weight > 0 && Number.isFinite(weight))) {
    throw new RangeError("a weight that is not above zero");
  }
}
