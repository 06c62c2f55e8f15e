/** Released layouts: kept as they were, one for each number, and the present one true to what it was released as. */
import { describe, expect, it } from "vitest";
import { compareLayouts } from "../../../protocol/model/compare.ts";
import { compile } from "../../../protocol/model/layout.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { releasedLayouts } from "../../../protocol/spec/released.ts";

const layout = compile(specification);

describe("released layouts", () => {
  it("have numbers and fingerprints of their own", () => {
    expect(releasedLayouts.length).toBeGreaterThan(0);
    expect(new Set(releasedLayouts.map(({ layout: number }) => number)).size).toBe(releasedLayouts.length);
    expect(new Set(releasedLayouts.map(({ fingerprint }) => fingerprint)).size).toBe(releasedLayouts.length);
  });

  it("keep the meaning of a number: who changes a released layout raises LAYOUT in protocol/spec/seal.ts", () => {
    for (const released of releasedLayouts.filter((one) => one.layout === layout.layout)) {
      expect(released.fingerprint).toBe(layout.fingerprint);
      expect(compareLayouts(released, layout).filter(({ effect }) => effect === "breaks")).toEqual([]);
    }
  });
});
