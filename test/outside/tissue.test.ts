/**
 * The four-term Cole-Cole model against its published values: 900 MHz from the IFAC calculator (from memory; two public
 * programs with the paper's parameters agree), the other frequencies computed from the parameters of Gabriel 1996.
 */
import { describe, expect, it } from "vitest";
import { tissueAt } from "../../sim/rf/tissue.ts";

describe("relative permittivity and conductivity", () => {
  it.each([
    ["skin_dry", 868, 41.576, 0.8562],
    ["skin_dry", 900, 41.405, 0.8667],
    ["skin_dry", 915, 41.329, 0.8717],
    ["fat", 868, 5.467, 0.0503],
    ["fat", 900, 5.462, 0.051],
    ["fat", 915, 5.46, 0.0514],
    ["muscle", 868, 55.109, 0.9321],
    ["muscle", 900, 55.032, 0.9429],
    ["muscle", 915, 54.997, 0.948],
  ] as const)("%s at %i MHz", (tissue, mhz, permittivity, conductivity) => {
    const at = tissueAt(tissue, mhz * 1e6);
    expect(at.permittivity).toBeCloseTo(permittivity, 3);
    expect(at.conductivitySPerM).toBeCloseTo(conductivity, 4);
  });
});

describe("depth of 1/e at 868 MHz (computed)", () => {
  it.each([
    ["skin_dry", 40.8],
    ["fat", 247.9],
    ["muscle", 42.9],
  ] as const)("%s", (tissue, millimetres) => {
    expect(tissueAt(tissue, 868e6).depthM * 1000).toBeCloseTo(millimetres, 1);
  });
});
