/** Coverage factors against GUM Table G.2 (JCGM 100:2008), and F and t against scipy 1.10.1 (Debian python3-scipy). */
import { describe, expect, it } from "vitest";
import { coverageFactor, effectiveDegreesOfFreedom, fTail } from "../../host/calibrate/distributions.ts";
import { needsPython, runPython } from "../support/debian-python.ts";

describe("GUM Table G.2, 95.45 %", () => {
  it.each([
    [1, 13.97],
    [2, 4.53],
    [3, 3.31],
    [5, 2.65],
    [10, 2.28],
    [20, 2.13],
    [50, 2.05],
    [Number.POSITIVE_INFINITY, 2.0],
  ])("%d degrees of freedom", (dof, k) => expect(coverageFactor(0.9545, dof)).toBeCloseTo(k, 2));
});

describe("GUM H.1, end gauge: effective degrees of freedom", () => {
  it("is 16 for contributions 25, 9.7, 2.9, 16.6 nm with 18, 25.6, 50 and 2 degrees of freedom", () => {
    // GUM H.1.6 finds 16.7 and truncates.
    const contributions = [
      { standardUncertainty: 25, degreesOfFreedom: 18 },
      { standardUncertainty: 9.7, degreesOfFreedom: 25.6 },
      { standardUncertainty: 2.9, degreesOfFreedom: 50 },
      { standardUncertainty: 16.6, degreesOfFreedom: 2 },
    ];
    expect(Math.floor(effectiveDegreesOfFreedom(contributions))).toBe(16);
    expect(effectiveDegreesOfFreedom([{ standardUncertainty: 1, degreesOfFreedom: Infinity }])).toBe(Infinity);
  });
});

const cases = [0.01, 0.5, 1, 3.7, 40, 900].flatMap((value) =>
  [1, 2, 5, 31, 240].flatMap((a) => [1, 4, 17, 300].map((b) => [value, a, b] as const)),
);
const shares = [0.5, 0.68, 0.9, 0.9545, 0.999].flatMap((share) =>
  [1, 2, 3.5, 9, 60, 1e4].map((dof) => [share, dof] as const),
);
const code = `import json, sys
from scipy.stats import f, t
given = json.load(sys.stdin)
print(json.dumps({"f": [f.sf(*c) for c in given["f"]], "t": [t.ppf((1 + s) / 2, n) for s, n in given["t"]]}))`;

needsPython("scipy", () => {
  it("agrees on F tails and t quantiles", () => {
    const answer = JSON.parse(runPython(code, { f: cases, t: shares })) as { f: number[]; t: number[] };
    cases.forEach(([value, a, b], i) => {
      expect(Math.abs(fTail(value, [a, b]) - answer.f[i]!)).toBeLessThan(1e-10 * answer.f[i]! + 1e-14);
    });
    // Its own quantiles are good to about nine digits.
    shares.forEach(([share, dof], i) => {
      expect(Math.abs(coverageFactor(share, dof) / answer.t[i]! - 1)).toBeLessThan(1e-8);
    });
  });
});
