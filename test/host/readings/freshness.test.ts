import { describe, expect, it } from "vitest";
import { Freshness } from "../../../host/readings/freshness.ts";

/** `[sequence, hex, seconds]` in turn; the quality of each, first_sight left out. */
function watch(sights: readonly (readonly [number, string, number])[], periodS: number | null = 0.5) {
  const freshness = new Freshness();
  return sights.map(([sequence, hex, s]) => {
    const { ageS, distinct, quality } = freshness.see(sequence, hex, s * 1e6, periodS);
    return [ageS, distinct, quality.filter((id) => id !== "first_sight").join(" ")];
  });
}

describe("freshness", () => {
  it("counts age from the first sight of a frame", () => {
    expect(
      watch([
        [7, "aa", 1],
        [7, "aa", 2],
        [8, "bb", 2.5],
        [8, "bb", 4.5],
        [8, "bb", 4.6],
      ]),
    ).toEqual([
      [0, true, ""],
      [1, false, "repeated"],
      [0, true, ""],
      [2, false, "repeated"],
      [2.1, false, "repeated stale"],
    ]);
  });

  it("three sampling periods count where they are longer than two seconds", () => {
    const sights = [
      [7, "aa", 0],
      [7, "aa", 6],
      [7, "aa", 6.1],
    ] as const;
    expect(watch(sights, 2).map(([, , quality]) => quality)).toEqual(["", "repeated", "repeated stale"]);
    expect(watch(sights, null).map(([, , quality]) => quality)).toEqual(["", "repeated stale", "repeated stale"]);
  });

  it("goes over the end of the number circle (RFC 1982)", () => {
    expect(
      watch([
        [65_535, "aa", 0],
        [0, "bb", 1],
        [1, "cc", 2],
      ]).map(([, , quality]) => quality),
    ).toEqual(["", "", ""]);
  });

  it("never takes an earlier frame as newer", () => {
    const found = watch([
      [10, "aa", 0],
      [11, "bb", 1],
      [10, "aa", 2],
      [11, "bb", 3],
      [12, "cc", 4],
      [5, "dd", 5],
    ]);
    expect(found.map(([, , quality]) => quality)).toEqual([
      "",
      "",
      "repeated sequence_back",
      "repeated",
      "",
      "sequence_back",
    ]);
    expect(found[2]![0]).toBe(2);
  });

  it("half the circle away is not newer", () => {
    expect(
      watch([
        [0, "aa", 0],
        [0x8000, "bb", 1],
      ])[1]![2],
    ).toBe("sequence_back");
  });

  it("follows a new count only when that goes forward itself", () => {
    const found = watch([
      [500, "aa", 0],
      [1, "bb", 1],
      [2, "cc", 2],
      [3, "dd", 3],
    ]);
    expect(found.map(([, , quality]) => quality)).toEqual(["", "sequence_back", "sequence_back", ""]);
  });

  it("other contents under the same sequence are a frame of their own", () => {
    expect(
      watch([
        [7, "aa", 0],
        [7, "bb", 3],
      ])[1],
    ).toEqual([0, true, "sequence_reused"]);
  });

  it("a kit clock that goes back gives no negative age", () => {
    expect(
      watch([
        [7, "aa", 100],
        [7, "aa", 1],
        [7, "aa", 2],
      ]).slice(1),
    ).toEqual([
      [0, false, "kit_time_back repeated"],
      [1, false, "repeated"],
    ]);
  });

  it("says that the age of a tag's first frame is not known, and only of that one", () => {
    const freshness = new Freshness();
    const qualities = [1, 1, 2].map((sequence, i) => freshness.see(sequence, `${sequence}`, i * 1e6, 1).quality);
    expect(qualities.map((list) => list.includes("first_sight"))).toEqual([true, true, false]);
  });
});
