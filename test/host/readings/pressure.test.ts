import { describe, expect, it } from "vitest";
import {
  type AbsolutePressure,
  absoluteOf,
  combinedUncertaintyPa,
  type GaugePressure,
  gaugeOf,
  measuredAmbient,
  NOMINAL,
  PASCAL_PER_MMHG,
  stepsOf,
  toHpa,
  toMmhg,
  toPascal,
} from "../../../host/readings/pressure.ts";

const ambient = measuredAmbient(12_969_600, "typed", null, null);

describe("pressure", () => {
  it("the unit is 13595.1 kg/m3 x 9.80665 m/s2 x 1 mm (NIST SP 811 lists 133.3224 Pa)", () => {
    const exact = (135_951n * 980_665n) / 1n; // 1e-1 kg/m3, 1e-5 m/s2, 1e-3 m: 1e-9 Pa
    expect(BigInt(Math.round(PASCAL_PER_MMHG * 1e9))).toBe(exact);
    expect(PASCAL_PER_MMHG.toFixed(4)).toBe("133.3224");
  });

  it("a standard atmosphere is 1013.25 hPa, and 101 325 Pa above it is 760 mmHg to 1e-4 (1 Torr differs by 1.4e-7)", () => {
    const pressure = absoluteOf(12_969_600, null, NOMINAL);
    expect(toHpa(pressure)).toBe(1013.25);
    expect(toPascal(pressure)).toBe(101_325);
    expect(stepsOf(101_325)).toBe(12_969_600);
    expect(101_325 / PASCAL_PER_MMHG).toBeCloseTo(760, 3);
  });

  it("40 mmHg is 5332.8955 Pa", () => {
    const gauge = gaugeOf(absoluteOf(12_969_600 + 5_333 * 128, null, NOMINAL), ambient, null, NOMINAL)!;
    // (5333 - 5332.8954966) / 133.322387415 = 0.000783840
    expect(toMmhg(gauge)).toBeCloseTo(40.00078384, 8);
  });

  it("beyond the arithmetic's range there is no gauge pressure", () => {
    const far = absoluteOf(12_969_600 + 40_001 * 128, null, NOMINAL);
    expect(gaugeOf(far, ambient, null, NOMINAL)).toBeNull();
  });

  it("contributions combine as a root sum of squares (3-4-5)", () => {
    expect(combinedUncertaintyPa(3, 4)).toBe(5);
    expect(combinedUncertaintyPa(60, 0)).toBe(60);
  });

  it("the compiler keeps absolute, gauge and plain numbers apart", () => {
    const absolute = absoluteOf(12_969_600, null, NOMINAL);
    // @ts-expect-error an absolute pressure is no gauge pressure
    const wrong: GaugePressure = absolute;
    // @ts-expect-error a number is no gauge pressure
    const plain: GaugePressure = 5;
    // @ts-expect-error a gauge pressure is no absolute one
    const back: AbsolutePressure = gaugeOf(absolute, ambient, null, NOMINAL)!;
    // @ts-expect-error an ambient cannot be written down as an object
    gaugeOf(absolute, { pressure: absolute, source: "typed", expandedUncertaintyPa: null, atUs: null }, null, NOMINAL);
    expect([wrong, plain, back]).toHaveLength(3);
  });
});
