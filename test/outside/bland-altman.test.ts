/**
 * Bland JM, Altman DG, "Statistical methods for assessing agreement between two methods of clinical measurement", Lancet
 * 1986;i:307-310: peak expiratory flow of 17 subjects by two meters, first readings. Data, published results and their
 * confidence intervals from memory; the published ones are rounded to 0.1 and use limits at two standard deviations, the
 * standard error √(3/n)·s for a limit, and t = 2.12.
 */
import { describe, expect, it } from "vitest";
import { agreementOf } from "../../host/agreement/bland-altman.ts";

const WRIGHT = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
const MINI = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];
const pairs = WRIGHT.map((value, i) => [value, MINI[i]!] as const);

describe("agreement of two methods", () => {
  it("gives the published bias, standard deviation and limits", () => {
    const found = agreementOf(pairs, 2)!;
    expect(found.pairs).toBe(17);
    expect(found.bias).toBeCloseTo(-2.1, 1);
    expect(found.deviation).toBeCloseTo(38.8, 1);
    // Published −79.7 and 75.5, worked from the rounded −2.1 and 38.8; in full digits −79.648 and 75.413.
    expect(found.lowerLimit).toBeCloseTo(-79.648, 3);
    expect(found.upperLimit).toBeCloseTo(75.413, 3);
  });

  it("gives the limits at 1.96 standard deviations", () => {
    const found = agreementOf(pairs)!;
    expect(found.lowerLimit).toBeCloseTo(-78.097, 3);
    expect(found.upperLimit).toBeCloseTo(73.862, 3);
  });

  it("gives the published confidence interval of the bias, −22.0 to 17.8", () => {
    const { biasInterval } = agreementOf(pairs)!;
    expect(biasInterval.low).toBeCloseTo(-22.0, 0);
    expect(biasInterval.high).toBeCloseTo(17.8, 1);
  });

  it("gives intervals of the limits within 1 of the published ones, which rest on a rounder formula", () => {
    const { lowerInterval, upperInterval } = agreementOf(pairs, 2)!;
    const published = [-114.3, -45.1, 40.9, 110.1];
    [lowerInterval.low, lowerInterval.high, upperInterval.low, upperInterval.high].forEach((value, i) => {
      expect(Math.abs(value - published[i]!)).toBeLessThan(1);
    });
  });

  it("gives the intervals of the 1999 paper's formula", () => {
    const { lowerInterval, upperInterval, deviation, lowerLimit } = agreementOf(pairs)!;
    // t(0.975; 16) = 2.119905 (tables), variance s²(1/17 + 1.96²/32) worked here.
    const reach = 2.119905 * deviation * Math.sqrt(1 / 17 + 1.96 ** 2 / 32);
    expect(lowerInterval.low).toBeCloseTo(lowerLimit - reach, 3);
    expect(lowerInterval.high).toBeCloseTo(lowerLimit + reach, 3);
    expect(upperInterval.high - upperInterval.low).toBeCloseTo(2 * reach, 3);
  });
});
