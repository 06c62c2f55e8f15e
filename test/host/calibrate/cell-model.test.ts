/** The physical model against the specification's integer rule, its fit against what an invented cell is known to do. */
import { describe, expect, it } from "vitest";
import { blockReadingPa } from "../../../host/calibrate/block.ts";
import { cellReading, fitCell, fitUncertaintyPa, inputAt, termIds } from "../../../host/calibrate/cell-model.ts";
import { inventRows, plan, truth } from "../../support/invented-bench-run.ts";

/** Worked examples of protocol/COMPENSATION.md (Python's fractions): raw integers, gauge in Pa. */
const examples = [
  [13_600_000, 2500, 12_969_600, 0, 1_048_576, 0, 0, 0, 2500, 4925],
  [13_641_234, 3215, 12_969_600, -12_800, 1_153_434, 320, -850, 1200, 2500, 5625.8359],
  [12_950_001, 1190, 12_969_600, 777, 995_000, -45, 415, -90, 2250, -145.9609],
  [13_641_234, null, 12_969_600, -12_800, 1_153_434, 320, -850, 1200, 2500, 5700.3281],
] as const;

describe.each(examples)("pressure %d at %d", (pressure, temperature, ambient, ...rest) => {
  const [offset, gain, effect, gainTemperature, curvature, reference, gaugePa] = rest;
  const input = {
    sensorPa: pressure / 128,
    temperatureC: temperature === null ? null : temperature / 100,
    ambientPa: ambient / 128,
  };

  it("reads what the rule says", () => {
    const coefficients = {
      offset: offset / 128,
      gain: gain / 1_048_576,
      temperature_effect: effect / 64,
      gain_temperature: gainTemperature / 1e6,
      curvature: curvature / 1e9,
    };
    // The rule in integers is off by 0.016 Pa at most (protocol/COMPENSATION.md).
    expect(Math.abs(cellReading(input, coefficients, reference / 100).gaugePa - gaugePa)).toBeLessThan(0.016);
    const raws = {
      offset,
      gain,
      temperatureEffect: effect,
      gainTemperature,
      curvature,
      referenceTemperature: reference,
    };
    expect(blockReadingPa(input, raws)).toBeCloseTo(gaugePa, 4);
  });
});

describe("slopes", () => {
  const c = { offset: -100, gain: 1.08, temperature_effect: 6, gain_temperature: -4e-4, curvature: 7e-7 };
  const input = { sensorPa: 109_000, temperatureC: 36, ambientPa: 101_000 };
  const steps = { offset: 1, gain: 1e-4, temperature_effect: 0.01, gain_temperature: 1e-6, curvature: 1e-9 };

  it.each(termIds)("of %s are those of the reading", (term) => {
    const at = (sign: number) => cellReading(input, { ...c, [term]: c[term] + sign * steps[term] }, 30).gaugePa;
    const slope = (at(1) - at(-1)) / (2 * steps[term]);
    expect(cellReading(input, c, 30).slopes[term] / slope).toBeCloseTo(1, 5);
  });

  it("and the model read backwards ends where it began", () => {
    const back = inputAt(7654.321, 36, 101_000, { coefficients: c, referenceC: 30 });
    expect(cellReading(back, c, 30).gaugePa).toBeCloseTo(7654.321, 6);
  });
});

const quiet = { ...truth, halfLoopPa: 0, creepPa: 0 };
const points = (seed: number, noisePa: number, levelsMmhg = plan.levelsMmhg, cycles = plan.cycles) =>
  inventRows(seed, { ...quiet, noisePa }, { ...plan, levelsMmhg, cycles, hold: false }).map((row) => ({
    referencePa: row.referencePa,
    sensorPa: row.sensorRaw / 128,
    temperatureC: row.temperatureC,
    ambientPa: row.ambientRaw / 128,
  }));

describe("a fit", () => {
  const fit = fitCell(points(5, 0.8), termIds, truth.referenceC);
  const inventedTruth = [
    truth.offsetPa,
    truth.gain,
    truth.temperatureEffectPaPerK,
    truth.gainPerK,
    truth.curvaturePerPa,
  ];

  it("finds what the invented cell does, within four standard uncertainties", () => {
    termIds.forEach((term, k) => {
      const off = Math.abs(fit.coefficients[term] - inventedTruth[k]!);
      expect([term, off / fit.regression.standardUncertainties[k]!]).toEqual([
        term,
        expect.toSatisfy((n: number) => n < 4),
      ]);
    });
  });

  it("states uncertainties that hold in about 95 of 100 runs", () => {
    const input = { sensorPa: 107_500, temperatureC: 35, ambientPa: 101_140 };
    const exact = cellReading(
      input,
      Object.fromEntries(termIds.map((term, k) => [term, inventedTruth[k]])) as never,
      truth.referenceC,
    ).gaugePa;
    let within = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const found = fitCell(points(seed, 3, [0, 50, 100], 1), termIds, truth.referenceC);
      const off = cellReading(input, found.coefficients, truth.referenceC).gaugePa - exact;
      if (Math.abs(off) <= 2 * fitUncertaintyPa(found, input)) within++;
    }
    // Binomial, 100 of 0.954: fewer than 88 or none outside happens once in more than a hundred sets of seeds.
    expect(within).toBeGreaterThanOrEqual(88);
    expect(within).toBeLessThan(100);
  });
});
