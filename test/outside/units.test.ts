/** Scales of the specification against the definitions of the units they name. */
import { describe, expect, it } from "vitest";
import { compile, fieldIndex, recordOf } from "../../protocol/model/layout.ts";
import { toValue } from "../../protocol/model/scale.ts";
import { units } from "../../protocol/model/units.ts";
import { specification } from "../../protocol/spec/plyframe.ts";

const frame = recordOf(compile(specification), "frame");
const fieldOf = (id: string) => frame.fields[fieldIndex(frame, id)]!;

/**
 * Conventional millimetre of mercury: density 13 595.1 kg/m³ and standard gravity 9.80665 m/s² over 1 mm
 * (ISO 80000-4 and NIST SP 811, from memory): 13595.1 · 9.80665 / 1000 = 133.322387415 Pa exactly.
 */
const MMHG_PA = Number(135951n * 980665n) / 1e9;

describe("units", () => {
  it("the conventional millimetre of mercury follows from density and gravity", () => {
    expect(135951n * 980665n).toBe(133322387415n);
    expect(MMHG_PA).toBe(133.322387415);
  });

  it("one step of pressure is finer than 0.001 mmHg", () => {
    const pressure = fieldOf("pressure");
    const stepPa = toValue(pressure, pressure.min! + 1)! - toValue(pressure, pressure.min!)!;
    expect(stepPa).toBe(1 / 128);
    expect(stepPa / MMHG_PA).toBeLessThan(0.001);
  });

  it("pressure covers at least 300 to 1260 hPa (1 hPa = 100 Pa)", () => {
    const pressure = fieldOf("pressure");
    expect(toValue(pressure, pressure.min!)).toBeLessThanOrEqual(300 * 100);
    expect(toValue(pressure, pressure.max!)).toBeGreaterThanOrEqual(1260 * 100);
  });

  it("temperature is in hundredths of a degree, supply in millivolts, uptime in tenths of a second", () => {
    expect(toValue(fieldOf("temperature"), 3652)).toBe(36.52);
    expect(toValue(fieldOf("temperature"), -1)).toBe(-0.01);
    expect(toValue(fieldOf("supply"), 1800)).toBe(1.8);
    expect(toValue(fieldOf("uptime"), 36_000)).toBe(3600);
  });

  it("an uptime that saturates says at least 29 hours", () => {
    const uptime = fieldOf("uptime");
    expect(toValue(uptime, 2 ** 20 - 1)).toBe(toValue(uptime, uptime.max!));
    expect(toValue(uptime, uptime.max!)! / 3600).toBeGreaterThan(29);
  });

  // The Unified Code for Units of Measure (UCUM) 2.1, case-sensitive symbols, from memory.
  it("symbols are those of UCUM where it has one", () => {
    const ucum: Partial<Record<keyof typeof units, string>> = {
      one: "1",
      pascal: "Pa",
      pascal_per_kelvin: "Pa/K",
      per_kelvin: "1/K",
      per_pascal: "1/Pa",
      hectopascal: "hPa",
      celsius: "Cel",
      volt: "V",
      second: "s",
      microsecond: "us",
      day: "d",
      month: "mo",
      kilohertz: "kHz",
      byte: "By",
    };
    for (const [id, { symbol, quantity }] of Object.entries(units)) {
      const expected = ucum[id as keyof typeof units];
      if (expected) expect(symbol).toBe(expected);
      else expect(quantity).toContain("not in UCUM");
    }
  });
});
