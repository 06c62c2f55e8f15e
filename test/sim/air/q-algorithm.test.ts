/**
 * The algorithm that chooses Q: an estimate that an empty slot lowers and a collision raises by a step of 0.1 to 0.5, kept from
 * 0 to 15 and rounded (annex D of GS1 EPC Gen2, informative, from memory).
 */
import { describe, expect, it } from "vitest";
import { QAlgorithm } from "../../../sim/air/q-algorithm.ts";

/** How many of these slots it takes until Q is another one. */
function slotsToChange(algorithm: QAlgorithm, slot: "empty" | "collision"): number {
  const before = algorithm.q;
  for (let count = 1; count <= 10; count++) {
    algorithm[slot]();
    if (algorithm.q !== before) return count;
  }
  return Number.POSITIVE_INFINITY;
}

const times = (count: number, run: () => void) => {
  for (let i = 0; i < count; i++) run();
};

describe("Q", () => {
  it.each([
    ["collision", 0.125, 4, 5],
    ["collision", 0.2, 3, 5],
    ["collision", 0.5, 1, 5],
    ["empty", 0.2, 3, 3],
    ["empty", 0.4, 2, 3],
  ] as const)("after %s with a step of %f changes in slot %i to %i", (slot, step, count, q) => {
    const algorithm = new QAlgorithm(4, step);
    expect(slotsToChange(algorithm, slot)).toBe(count);
    expect(algorithm.q).toBe(q);
  });

  it("follows by default with a step that the annex allows: one slot is never enough, five are", () => {
    for (const slot of ["empty", "collision"] as const) {
      const count = slotsToChange(new QAlgorithm(4), slot);
      expect(count).toBeGreaterThanOrEqual(2);
      expect(count).toBeLessThanOrEqual(5);
    }
  });

  it("goes no lower than 0 and no higher than 15, and comes back from there as fast as from anywhere", () => {
    const low = new QAlgorithm(1, 0.25);
    times(100, () => low.empty());
    expect(low.q).toBe(0);
    expect(slotsToChange(low, "collision")).toBe(2);
    const high = new QAlgorithm(14, 0.25);
    times(100, () => high.collision());
    expect(high.q).toBe(15);
    // 14.5 rounds up.
    expect(slotsToChange(high, "empty")).toBe(3);
  });
});
