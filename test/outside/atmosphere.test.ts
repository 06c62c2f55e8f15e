/**
 * U.S. Standard Atmosphere 1976. Figures of the package fluids 1.0.22 (ATMOSPHERE_1976; Debian python3-fluids); heights as a
 * ruler measures them and as geopotential heights are different columns.
 */
import { describe, expect, it } from "vitest";
import { geopotentialHeightM, pressureAbovePa, standardPressurePa } from "../../host/calibrate/atmosphere.ts";
import { needsPython, runPython } from "../support/debian-python.ts";

const table = [
  [-100, 102532.113, 102532.094],
  [0, 101325, 101325],
  [100, 100129.457, 100129.439],
  [500, 95461.289, 95460.839],
  [1000, 89876.285, 89874.571],
  [1500, 84559.677, 84556.005],
  [2000, 79501.425, 79495.216],
  [3000, 70121.162, 70108.545],
  [5000, 54048.286, 54019.912],
] as const;

describe.each(table)("at %d m", (heightM, geometric, geopotential) => {
  it("geometric height", () => expect(standardPressurePa(geopotentialHeightM(heightM))).toBeCloseTo(geometric, 2));
  it("geopotential height", () => expect(standardPressurePa(heightM)).toBeCloseTo(geopotential, 2));
});

describe("carrying an ambient pressure over a height", () => {
  it("is 12.01 Pa for the first metre above sea level, as ρg of the standard atmosphere", () => {
    expect(101325 - pressureAbovePa(101325, 1)).toBeCloseTo(1.225 * 9.80665, 1);
  });

  it("goes down the table and up again", () => {
    expect(pressureAbovePa(101325, 500)).toBeCloseTo(95460.839, 2);
    expect(pressureAbovePa(54019.912, -4000)).toBeCloseTo(89874.571, 2);
  });

  it("refuses a height outside the troposphere", () => expect(() => standardPressurePa(12_000)).toThrow(RangeError));
});

const code =
  "from fluids.atmosphere import ATMOSPHERE_1976 as A\nprint(*(repr(float(A(z).P)) for z in range(-500, 10501, 250)))";

needsPython("fluids", () => {
  it("agrees from -500 m to 10.5 km", () => {
    const pressures = runPython(code, null).trim().split(" ").map(Number);
    expect(pressures).toHaveLength(45);
    pressures.forEach((pressure, i) => {
      const heightM = -500 + 250 * i;
      expect(Math.abs(standardPressurePa(geopotentialHeightM(heightM)) / pressure - 1)).toBeLessThan(1e-9);
    });
  });
});
