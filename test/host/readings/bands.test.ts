import { describe, expect, it } from "vitest";
import { bandOf, bandText } from "../../../host/readings/bands.ts";

describe("bands (WUWHS 2008 wording, edges as documented)", () => {
  it.each([
    [0, "mild"],
    [19.999, "mild"],
    [20, "moderate"],
    [39.999, "moderate"],
    [40, "strong"],
    [60, "strong"],
    [60.001, "very strong"],
    [200, "very strong"],
  ])("%d mmHg without uncertainty is %s", (mmhg, text) => {
    expect(bandText(bandOf(mmhg, 0)!)).toBe(text);
    expect(bandOf(mmhg, null)).toBeNull();
  });

  it.each([
    [38, 1.9, "moderate", "moderate"],
    [38, 2, "20-40/40-60 boundary", "strong"],
    [42, 2, "strong", "strong"],
    [42, 2.1, "20-40/40-60 boundary", "strong"],
    [59, 1, "strong", "strong"],
    [59, 1.1, "40-60/>60 boundary", "very_strong"],
    [19, 1, "<20/20-40 boundary", "moderate"],
    [1, 5, "mild", "mild"],
    [30, 15, "<20/20-40/40-60 boundary", "strong"],
  ])("%d ± %d mmHg is %s", (mmhg, uncertainty, text, highest) => {
    const band = bandOf(mmhg, uncertainty)!;
    expect([bandText(band), band.highest]).toEqual([text, highest]);
  });

  it("below ambient there is none", () => {
    expect(bandOf(-0.001, 5)).toBeNull();
  });
});
