import { describe, expect, it } from "vitest";
import { median, quantile, robustSlope, robustSpread } from "../../../host/sessions/robust.ts";

describe("robust statistics", () => {
  it("median and quantiles lie between the order statistics", () => {
    expect(median([5, 1, 3])).toBe(3);
    expect(median([4, 1, 3, 2])).toBe(2.5);
    // Type 7 of Hyndman and Fan, the default of R: quantile(c(1, 2, 3, 4), 0.1) is 1.3.
    expect(quantile([4, 3, 2, 1], 0.1)).toBeCloseTo(1.3, 12);
    expect(median([])).toBeNaN();
  });

  it("spread is 1.4826 times the median absolute deviation, whatever a wild value does", () => {
    // R: mad(c(1, 2, 3, 4, 1000)) is 1.4826.
    expect(robustSpread([1, 2, 3, 4, 1000])).toBeCloseTo(1.4826, 12);
  });

  it("slope is the median of the slopes of all pairs", () => {
    expect(robustSlope([0, 1, 2, 3, 4], [0, 2, 4, 600, 8])).toBe(2);
    expect(robustSlope([1, 1], [0, 5])).toBeNull();
    const many = Array.from({ length: 5000 }, (_, i) => i);
    expect(
      robustSlope(
        many,
        many.map((x) => 3 * x),
      ),
    ).toBe(3);
  });
});
