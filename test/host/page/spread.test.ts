import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { spread } from "../../../host/page/time/spread.ts";

describe("labels beside the lines", () => {
  it("stay where they want to be when there is room", () => {
    expect(spread([10, 40, 70], 0, 100, 15)).toEqual([10, 40, 70]);
  });

  it("move down from one another, and up from the bottom", () => {
    expect(spread([10, 12, 13], 0, 100, 15)).toEqual([10, 25, 40]);
    expect(spread([90, 95, 99], 0, 100, 15)).toEqual([70, 85, 100]);
  });

  it("never meet and keep their order, where they fit", () => {
    const heights = fc.array(fc.double({ min: 0, max: 300, noNaN: true }), { maxLength: 16 });
    fc.assert(
      fc.property(heights, (list) => {
        const places = spread(
          [...list].sort((a, b) => a - b),
          0,
          300,
          15,
        );
        for (const [i, place] of places.entries()) {
          expect(place).toBeGreaterThanOrEqual(-1e-9);
          expect(place).toBeLessThanOrEqual(300);
          if (i > 0) expect(place - places[i - 1]!).toBeGreaterThanOrEqual(15 - 1e-9);
        }
      }),
    );
  });
});
