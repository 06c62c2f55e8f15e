/** The regression engine apart from certified sets: weights, replicates, what it refuses, and an exact rational rival. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lackOfFit, powers, RegressionError, regress } from "../../../host/calibrate/regression.ts";

describe("weights", () => {
  it("of whole numbers give the coefficients of repeated rows", () => {
    const x = [1, 2, 3, 5, 8];
    const y = [1.1, 2.3, 2.8, 5.4, 7.7];
    const weights = [1, 3, 2, 1, 4];
    const repeated = (values: readonly number[]) =>
      values.flatMap((value, i) => new Array<number>(weights[i]!).fill(value));
    const weighted = regress({ columns: [x], response: y, intercept: true, weights });
    const rows = regress({ columns: [repeated(x)], response: repeated(y), intercept: true });
    weighted.coefficients.forEach((value, k) => {
      expect(value).toBeCloseTo(rows.coefficients[k]!, 13);
    });
    expect(weighted.residualSumOfSquares).toBeCloseTo(rows.residualSumOfSquares, 13);
    expect(weighted.degreesOfFreedom).toBe(3);
  });

  it("that are not above zero are refused", () => {
    const data = { columns: [[1, 2, 3]], response: [1, 2, 3], intercept: true };
    expect(() => regress({ ...data, weights: [1, 0, 1] })).toThrow(RangeError);
  });
});

describe("the mean alone", () => {
  const fit = regress({ columns: [], response: [2, 4, 9], intercept: true });

  it("has its standard uncertainty s/√n", () => {
    expect(fit.coefficients[0]).toBeCloseTo(5, 14);
    expect(fit.standardUncertainties[0]).toBeCloseTo(Math.sqrt(13 / 3), 14);
    expect(fit.f).toBeNull();
  });
});

describe("prediction of one more response", () => {
  it("adds the scatter to the uncertainty of the fit", () => {
    const fit = regress({ columns: [[0, 1, 2, 3]], response: [0, 1.2, 1.8, 3.1], intercept: true });
    const { standardUncertainty, singleStandardUncertainty } = fit.predict([1.5]);
    expect(standardUncertainty).toBeCloseTo(fit.residualSd / 2, 13);
    expect(singleStandardUncertainty).toBeCloseTo(Math.hypot(fit.residualSd, fit.residualSd / 2), 13);
  });
});

describe("what cannot be fitted", () => {
  it.each([
    ["fewer rows than coefficients", [[1, 2]], [1, 2], true, null, 1],
    [
      "a column that does not vary",
      [
        [1, 2, 3],
        [7, 7, 7],
      ],
      [1, 2, 4],
      true,
      1,
      0,
    ],
    [
      "a column that follows from others",
      [
        [1, 2, 3, 4],
        [1, 0, 5, 2],
        [2, 2, 8, 6],
      ],
      [1, 2, 3, 5],
      true,
      2,
      0,
    ],
    [
      "the same times a number that is no double",
      [
        [1, 2, 3, 4],
        [0.1, 0.2, 0.3, 0.4],
      ],
      [1, 2, 3, 5],
      true,
      1,
      0,
    ],
    ["a column of zeros without a constant", [[0, 0, 0]], [1, 2, 3], false, 0, 0],
  ] as const)("%s", (_, columns, response, intercept, column, drop) => {
    const data = { columns: columns.map((c) => c.slice(drop)), response: response.slice(drop), intercept };
    const failure = (() => {
      try {
        regress(data);
        return null;
      } catch (error) {
        return error;
      }
    })();
    expect(failure).toBeInstanceOf(RegressionError);
    expect((failure as RegressionError).column).toBe(column);
  });

  it("a value that is no number", () => {
    expect(() => regress({ columns: [[1, Number.NaN]], response: [1, 2], intercept: false })).toThrow(RangeError);
    expect(() => regress({ columns: [[1]], response: [1, 2], intercept: false })).toThrow(RangeError);
  });

  it("as many rows as coefficients: fitted, without an uncertainty", () => {
    const fit = regress({ columns: [[1, 3]], response: [10, 20], intercept: true });
    expect(fit.coefficients[1]).toBeCloseTo(5, 14);
    expect(fit.degreesOfFreedom).toBe(0);
    expect(fit.standardUncertainties.every(Number.isNaN)).toBe(true);
    expect(fit.f).toBeNull();
  });
});

describe("lack of fit", () => {
  const x = [0, 0, 1, 1, 2, 2];

  it("is F of the group means about the line over the scatter in the groups, worked by hand", () => {
    // Means 0, 3, 2: line 2/3 + x, squares of the means about it 2·(4/9 + 16/9 + 4/9); within groups 3·2·0.01.
    const y = [-0.1, 0.1, 2.9, 3.1, 1.9, 2.1];
    const fit = regress({ columns: [x], response: y, intercept: true });
    const found = lackOfFit(fit, y, x.map(String))!;
    expect(found.pureErrorSd).toBeCloseTo(Math.sqrt(0.06 / 3), 12);
    expect(found.f!.degreesOfFreedom).toEqual([1, 3]);
    expect(found.f!.value).toBeCloseTo((2 * (24 / 9)) / 0.02, 8);
  });

  it("is not known without a repeat", () => {
    const y = [0, 1, 2];
    const fit = regress({ columns: [[0, 1, 2]], response: y, intercept: true });
    expect(lackOfFit(fit, y, ["a", "b", "c"])).toBeNull();
  });
});

/** Exact least squares of whole numbers by the normal equations in rationals: another road to the same place. */
function exact(columns: readonly (readonly bigint[])[], y: readonly bigint[]): number[] | null {
  const p = columns.length;
  const dot = (a: readonly bigint[], b: readonly bigint[]) => a.reduce((total, value, i) => total + value * b[i]!, 0n);
  const m = columns.map((a) => [...columns.map((b) => dot(a, b)), dot(a, y)]);
  for (let k = 0; k < p; k++) {
    const pivot = m.findIndex((row, i) => i >= k && row[k] !== 0n);
    if (pivot < 0) return null;
    [m[k], m[pivot]] = [m[pivot]!, m[k]!];
    for (let i = 0; i < p; i++) {
      if (i === k) continue;
      const factor = m[i]![k]!;
      m[i] = m[i]!.map((value, j) => value * m[k]![k]! - factor * m[k]![j]!);
    }
  }
  return m.map((row, k) => ratio(row[p]!, row[k]!));
}

function ratio(a: bigint, b: bigint): number {
  const scaled = (a * 10n ** 40n) / b;
  return Number(scaled) / 1e40;
}

describe("random whole numbers", () => {
  it("agree with exact rational arithmetic to 1e-12 of the largest coefficient", () => {
    const rows = fc.array(fc.tuple(fc.integer({ min: -50, max: 50 }), fc.integer({ min: -1000, max: 1000 })), {
      minLength: 6,
      maxLength: 25,
    });
    fc.assert(
      fc.property(rows, fc.integer({ min: 1, max: 4 }), fc.boolean(), (data, degree, intercept) => {
        const x = data.map(([value]) => value);
        const y = data.map(([, value]) => value);
        if (new Set(x.filter((value) => intercept || value !== 0)).size <= degree) return;
        const big = Array.from({ length: degree }, (_, k) => x.map((value) => BigInt(value) ** BigInt(k + 1)));
        const certain = exact(intercept ? [x.map(() => 1n), ...big] : big, y.map(BigInt))!;
        const found = regress({ columns: powers(x, degree), response: y, intercept }).coefficients;
        const largest = Math.max(...certain.map(Math.abs), 1e-12);
        certain.forEach((value, k) => {
          expect(Math.abs(found[k]! - value)).toBeLessThanOrEqual(1e-12 * largest);
        });
      }),
      { numRuns: 300 },
    );
  });
});
