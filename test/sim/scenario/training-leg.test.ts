import { describe, expect, it } from "vitest";
import { loadPa } from "../../../sim/scenario/load.ts";
import { postureShares } from "../../../sim/scenario/posture.ts";
import { scenarios } from "../../../sim/scenario/scenarios.ts";
import { trainingLeg, trainingLegOutside } from "../../../sim/scenario/training-leg.ts";
import { ambientPa } from "../../../sim/scenario/weather.ts";
import { cellPressurePa, cellTemperatureC } from "../../../sim/tag/cell.ts";

// 13 595.1 kg/m³ · 9.80665 m/s² · 1 mm, the conventional millimetre of mercury (ISO 80000-4 annex, from memory).
const MMHG = (13_595.1 * 9.80665) / 1000;
const S = 1e6;
const { phases, wornBeforeS, tags } = trainingLeg;
const mmHg = (index: number, seconds: number) => loadPa(tags[index]!.load, phases, wornBeforeS, seconds * S) / MMHG;

describe("the scenarios", () => {
  it("are found by their names and by no other word", () => {
    expect(scenarios["training-leg"]).toBe(trainingLeg);
    expect(scenarios["training-leg-outside"]).toBe(trainingLegOutside);
    expect(scenarios.constructor).toBeUndefined();
  });

  it("say that they are invented", () => {
    for (const scenario of [trainingLeg, trainingLegOutside]) expect(scenario.title).toContain("invented");
  });

  it("carry EPCs of the standard's example GTIN and no other company's", () => {
    // GS1 TDS 2.3 Annex E: urn:epc:tag:sgtin-96:3.95060001343.05.6789 is 3066C4409047E14000001A85; header, filter,
    // partition, company prefix and item reference are its first 58 bits, the serial the other 38.
    const example = BigInt("0x3066C4409047E14000001A85") >> 38n;
    const epcs = trainingLegOutside.tags.map(({ epc }) => epc);
    for (const epc of epcs) {
      expect(epc).toMatch(/^[0-9a-f]{24}$/);
      expect(BigInt(`0x${epc}`) >> 38n).toBe(example);
    }
    expect(new Set(epcs).size).toBe(5);
  });

  it("differ by a tag that nothing presses on and that stays at room temperature", () => {
    const outside = trainingLegOutside.tags[4]!;
    expect(trainingLegOutside.tags.slice(0, 4)).toEqual(tags);
    expect(loadPa(outside.load, phases, wornBeforeS, 30 * S)).toBe(0);
    expect(cellTemperatureC(outside.warming, wornBeforeS, 0)).toBe(
      cellTemperatureC(outside.warming, wornBeforeS, 1e12),
    );
  });
});

describe("the load", () => {
  it("starts near 45, 40, 32 and 25 mmHg and falls a little while resting", () => {
    const start = tags.map((_, index) => mmHg(index, 0));
    // 180 s into a relaxation of 23.5 % with a time constant of 1800 s: 0.235 · (1 − e^−0.1) = 2.24 % lost.
    [45, 40, 32, 25].forEach((mmHgAtFirst, index) => {
      expect(start[index]).toBeCloseTo(mmHgAtFirst * (1 - 0.0223632), 4);
    });
    expect(mmHg(0, 14)).toBeLessThan(start[0]!);
    expect(mmHg(0, 3600 * 4)).toBeCloseTo(45 * (1 - 0.235), 1);
  });

  it("rises at B1 by a static stiffness index above 10 mmHg on standing up, and less than at once", () => {
    const index = mmHg(0, 24) - mmHg(0, 14);
    expect(index).toBeGreaterThan(10);
    expect(index).toBeLessThan(20);
    expect(mmHg(0, 15.7)).toBeGreaterThan(mmHg(0, 14.9) + 3);
    expect(mmHg(0, 15.7)).toBeLessThan(mmHg(0, 24) - 3);
  });

  it("goes up and down about once a second while walking, and never below nothing", () => {
    const from = 30;
    const samples = Array.from({ length: 1000 }, (_, i) => mmHg(0, from + i / 100));
    const mean = samples.reduce((sum, value) => sum + value, 0) / samples.length;
    let upward = 0;
    for (let i = 1; i < samples.length; i++) if (samples[i - 1]! < mean && samples[i]! >= mean) upward++;
    expect(upward).toBeGreaterThanOrEqual(9);
    expect(upward).toBeLessThanOrEqual(11);
    expect(Math.max(...samples) - Math.min(...samples)).toBeGreaterThan(10);
    // The waveform's mean is nought, so a walking leg carries the standing pressure on average.
    expect(Math.abs(mean - mmHg(0, 24))).toBeLessThan(1);
    for (let s = 0; s < 90; s += 0.05) for (let i = 0; i < 4; i++) expect(mmHg(i, s)).toBeGreaterThan(0);
  });

  it("rests again after the story, for good", () => {
    expect(postureShares(phases, 60 * S)).toEqual({ resting: 1, standing: 0, walking: 0 });
    expect(postureShares(phases, 6000 * S)).toEqual({ resting: 1, standing: 0, walking: 0 });
  });

  it("is always made of shares that sum to one", () => {
    for (let s = 0; s < 60; s += 0.1) {
      const { resting, standing, walking } = postureShares(phases, s * S);
      expect(resting + standing + walking).toBeCloseTo(1, 12);
    }
  });
});

describe("the air cell", () => {
  it("warms by less than 10 K over minutes and shows far less than a rigid sealed cell", () => {
    for (const { cell, warming } of tags) {
      const rise = cellTemperatureC(warming, wornBeforeS, 1e10) - cellTemperatureC(warming, 0, 0);
      expect(rise).toBeGreaterThan(5);
      expect(rise).toBeLessThanOrEqual(10);
      const perKelvin = cellPressurePa(cell, 1e5, 0, 31) - cellPressurePa(cell, 1e5, 0, 30);
      expect(perKelvin).toBeGreaterThan(0);
      // Gas law, rigid sealed volume: 101 325 Pa / 298.15 K = 340 Pa/K.
      expect(perKelvin).toBeLessThan(101_325 / 298.15 / 20);
    }
  });

  it("passes on all of a change of the ambient and only a share of the load", () => {
    const { cell } = tags[0]!;
    const at = (ambient: number, load: number) => cellPressurePa(cell, ambient, load, 30);
    expect(at(100_500, 0) - at(100_000, 0)).toBeCloseTo(500, 6);
    const passed = (at(100_000, 5000) - at(100_000, 0)) / 5000;
    expect(passed).toBeGreaterThan(0.8);
    expect(passed).toBeLessThan(1);
  });
});

describe("the weather", () => {
  it("moves by hectopascals in hours and by little in the story's minute", () => {
    const { weather } = trainingLeg;
    const hours = Array.from({ length: 12 }, (_, hour) => ambientPa(weather, hour * 3600 * S));
    expect(Math.max(...hours) - Math.min(...hours)).toBeGreaterThan(200);
    expect(Math.abs(ambientPa(weather, 60 * S) - ambientPa(weather, 0))).toBeLessThan(10);
  });
});
