import { describe, expect, it } from "vitest";
import { calibratedAbsolute, calibratedGauge } from "../../../protocol/codec/compensate.ts";
import { trainingLegOutside } from "../../../sim/scenario/training-leg.ts";
import { cellPressurePa } from "../../../sim/tag/cell.ts";
import { calibrationRaws } from "../../../sim/tag/factory.ts";

describe("the calibration block", () => {
  it.each(trainingLegOutside.tags.map((tag) => [tag.site, tag] as const))(
    "inverts the cell at %s, drift and noise apart, within 2 Pa over load, temperature and ambient",
    (_site, tag) => {
      const raws = calibrationRaws(tag);
      const coefficients = {
        offset: raws.offset!,
        gain: raws.gain!,
        temperatureEffect: raws.temperature_effect!,
        gainTemperature: raws.gain_temperature!,
        curvature: raws.curvature!,
        referenceTemperature: raws.reference_temperature!,
      };
      const cell = { ...tag.cell, driftPa: 0 };
      for (const ambient of [97_000, 101_325, 104_000]) {
        for (const temperatureC of [20, 25, 30, 35]) {
          for (let load = 0; load <= 10_500; load += 1500) {
            const pressure = Math.round(cellPressurePa(cell, ambient, load, temperatureC) * 128);
            const absolute = calibratedAbsolute(pressure, temperatureC * 100, coefficients);
            const gauge = calibratedGauge(absolute, ambient * 128, temperatureC * 100, coefficients)!;
            // What a first-order inverse leaves: (k·load)² · 2 · load with k = 6e-7/Pa is 0.8 Pa at 10.5 kPa, and the
            // temperature term squared (4e-4/K · 10 K)² · load is 0.2 Pa.
            expect(Math.abs(gauge / 128 - load)).toBeLessThan(2);
          }
        }
      }
    },
  );

  it("is dated, names its method and carries the reuse cycles", () => {
    const raws = calibrationRaws(trainingLegOutside.tags[3]!);
    // Days from 2020-01-01 to 2025-12-30: six years with two leap days (2020, 2024), less two days.
    expect(raws.date).toBe(6 * 365 + 2 - 2);
    expect(raws.method).toBe(2);
    expect([raws.reuse_count, raws.reuse_since]).toEqual([11, 1]);
  });
});
