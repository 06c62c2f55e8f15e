import { describe, expect, it } from "vitest";
import { rangeOf, verdictOf } from "../../../host/page/store/verdict.ts";

const range = { lowMmhg: 35, highMmhg: 45 };

describe("verdict", () => {
  // Worked by hand: inside only with all of value ± U, outside only with none of it.
  it.each([
    [40, 0.5, "inside", 0],
    [35.5, 0.5, "inside", 0],
    [44.5, 0.5, "inside", 0],
    [35.4, 0.5, "edge", 0],
    [44.6, 0.5, "edge", 0],
    [34.6, 0.5, "edge", 0],
    [34.5, 0.5, "edge", 0],
    [34.4, 0.5, "below", 0.6],
    [45.5, 0.5, "edge", 0],
    [45.6, 0.5, "above", 0.6],
    [20, 0.5, "below", 15],
    [40, 8, "edge", 0],
  ])("of %s ± %s against 35 to 45 is %s", (gauge, uncertainty, place, by) => {
    const verdict = verdictOf(gauge, uncertainty, range)!;
    expect(verdict.place).toBe(place);
    expect(verdict.byMmhg).toBeCloseTo(by, 9);
  });

  it("is none without an uncertainty, without a pressure and without a range", () => {
    expect([verdictOf(40, null, range), verdictOf(null, 0.5, range), verdictOf(40, 0.5, null)]).toEqual([
      null,
      null,
      null,
    ]);
  });
});

describe("a typed range", () => {
  it("has its smaller end first, within 0 to 200", () => {
    expect(rangeOf(35, 45)).toEqual(range);
    const wrong: [number, number][] = [
      [45, 35],
      [40, 40],
      [-1, 20],
      [20, 201],
      [Number.NaN, 20],
      [20, Number.NaN],
    ];
    expect(wrong.map(([low, high]) => rangeOf(low, high))).toEqual(wrong.map(() => null));
  });
});
