import { describe, expect, it } from "vitest";
import { siteStyle } from "../../../host/page/time/site-style.ts";

describe("styles of sites", () => {
  it("tell 24 sites apart without colour, by shape and dash", () => {
    const styles = Array.from({ length: 24 }, (_, i) => siteStyle(i));
    expect(new Set(styles.map(({ shape, dash }) => JSON.stringify([shape, dash]))).size).toBe(24);
  });

  it("give the first eight a colour of their own", () => {
    expect(new Set(Array.from({ length: 8 }, (_, i) => siteStyle(i).colour)).size).toBe(8);
  });
});
