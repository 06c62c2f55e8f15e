/** NIST's certified linear regressions (sources: test/support/nist-strd.ts), every figure to 1e-9 relative. */
import { describe, expect, it } from "vitest";
import { powers, regress } from "../../host/calibrate/regression.ts";
import { type CertifiedSet, certifiedSets } from "../support/nist-strd.ts";

/** Largest relative difference; where the certified value is zero, the value in units of `scale`. */
function apart(found: readonly number[], certified: readonly number[], scale = 1): number {
  return Math.max(...found.map((value, i) => Math.abs(value - certified[i]!) / (Math.abs(certified[i]!) || scale)));
}

function fitted({ columns, degree, response, intercept }: CertifiedSet) {
  return regress({ columns: degree === null ? columns : powers(columns[0]!, degree), response, intercept });
}

describe.each(certifiedSets)("$name ($difficulty difficulty)", (set) => {
  const found = fitted(set);

  it("coefficients", () => {
    expect(found.coefficients).toHaveLength(set.coefficients.length);
    expect(apart(found.coefficients, set.coefficients)).toBeLessThan(1e-9);
  });

  it("standard uncertainties of the coefficients", () => {
    const scale = Math.max(...set.coefficients.map(Math.abs));
    expect(apart(found.standardUncertainties, set.standardUncertainties, scale)).toBeLessThan(1e-9);
  });

  it("residual standard deviation, R² and F", () => {
    const scale = Math.max(...set.response.map(Math.abs));
    expect(apart([found.residualSd], [set.residualSd], scale)).toBeLessThan(1e-9);
    expect(apart([found.rSquared], [set.rSquared])).toBeLessThan(1e-9);
    if (set.f === null) expect(found.f!.value).toBeGreaterThan(1e20);
    else expect(apart([found.f!.value], [set.f])).toBeLessThan(1e-9);
  });
});
