/** Combination of contributions, worked by hand. */
import { describe, expect, it } from "vitest";
import { combine, normal, rectangular, unknown } from "../../../host/calibrate/budget.ts";

describe("a budget", () => {
  it("of 3 and 4 Pa is 5 Pa, expanded 10 Pa", () => {
    const made = combine([normal("fit", "measured", 3, ""), normal("reference", "stated", 4, "")]);
    expect(made.combinedPa).toBe(5);
    expect(made.expandedPa).toBeCloseTo(10, 3);
    expect(made.effectiveDegreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
  });

  it("takes a rectangular half width by the root of three", () => {
    expect(rectangular("drift", "assumed", 30, "").standardUncertaintyPa).toBeCloseTo(17.3205, 4);
  });

  it("with few degrees of freedom is widened: 4 of them, k 2.87 (GUM Table G.2)", () => {
    const made = combine([normal("fit", "measured", 10, "", 4)]);
    expect(made.coverageFactor).toBeCloseTo(2.87, 2);
    expect(made.expandedPa).toBeCloseTo(28.7, 1);
  });

  it("with something unknown states nothing", () => {
    const made = combine([normal("fit", "measured", 3, ""), unknown("hysteresis", "")]);
    expect([made.combinedPa, made.expandedPa]).toEqual([null, null]);
  });
});
