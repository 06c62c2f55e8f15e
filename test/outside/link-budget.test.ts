/** Link budget against published examples and rules, and against values computed from the standard formulas elsewhere. */
import { describe, expect, it } from "vitest";
import { dbmOf, dbOf, wattOf } from "../../sim/rf/decibel.ts";
import {
  availableDbm,
  backscatterDbm,
  chipPowerDbm,
  crossSectionDbsm,
  farFieldFromM,
  forwardRangeM,
  freeSpaceLossDb,
  type Link,
  wavelengthM,
} from "../../sim/rf/link.ts";
import { eirpLimitW, ruleOf } from "../../sim/rf/regulation.ts";

const bare: Link = {
  conductedDbm: 0,
  cableLossDb: 0,
  antennaGainDbi: 0,
  polarisationLossDb: 0,
  excessLossDb: 0,
  tagGainDbi: 0,
  reflectionDifference: 1,
};

describe("Friis, worked examples", () => {
  // Published with the wavelength rounded to 0.33 m: -57.63 dBm; with c exact: -57.5532 dBm.
  it("10 W at 900 MHz over 2 km between isotropic antennas", () => {
    expect(availableDbm({ ...bare, conductedDbm: 40 }, 900e6, 2000)).toBeCloseTo(-57.5532, 4);
  });
  // Published with the wavelength rounded to 0.328 m: 7.33328 dBm; with c exact: 7.3238 dBm.
  it("30 dBm, 6 dBi and 3 dBi at 915 MHz over 1 m", () => {
    const link = { ...bare, conductedDbm: 30, antennaGainDbi: 6, tagGainDbi: 3 };
    expect(availableDbm(link, 915e6, 1)).toBeCloseTo(7.3238, 4);
    expect(availableDbm(link, 299_792_458 / 0.328, 1)).toBeCloseTo(7.33328, 5);
  });
  it.each([
    [866.5e6, 31.2032],
    [868e6, 31.2182],
    [915e6, 31.6762],
  ])("loss over 1 m at %f Hz (computed)", (hz, db) => expect(freeSpaceLossDb(hz, 1)).toBeCloseTo(db, 4));
});

// Computed from d = λ/4π · √(EIRP G τ χ / P), the form of Finkenzeller's RFID Handbook (eq. 4.4) with τ and χ after Nikitin.
describe("read range", () => {
  const HALF = dbOf(2);
  it.each([
    [866.5e6, 3.28, 2.15, 1, HALF, -18, 11.344],
    [866.5e6, 3.28, 2.15, 1, 0, -18, 16.043],
    [866.5e6, 3.28, -12, 0.9, HALF, -10, 0.8402],
    [866.5e6, 3.28, -12, 0.9, HALF, -6, 0.5301],
    [866.5e6, 3.28, -10, 1, HALF, -10, 1.115],
    [866.5e6, 3.28, -15, 0.8, HALF, -8, 0.4455],
    [915e6, 4, 2.15, 1, HALF, -18, 11.863],
    [915e6, 4, 0, 1, 0, -10, 5.2146],
  ])("%f Hz, %f W, %f dBi, tau %f, %f dB, %f dBm", (hz, eirpW, tagGainDbi, tau, polarisationLossDb, turnOn, metres) => {
    const link = { ...bare, conductedDbm: dbmOf(eirpW), tagGainDbi, polarisationLossDb };
    const digits = metres > 10 ? 3 : 4;
    expect(forwardRangeM(link, hz, tau, turnOn)).toBeCloseTo(metres, digits);
  });
});

describe("power into the chip over distance (computed: 3.28 W EIRP, -12 dBi, tau 0.9, half polarised)", () => {
  it.each([
    [0.2, 1764.9],
    [0.3, 784.4],
    [0.5, 282.4],
    [0.7, 144.07],
    [1, 70.59],
    [1.5, 31.38],
    [2, 17.65],
  ])("%f m", (metres, microwatt) => {
    const link = { ...bare, conductedDbm: dbmOf(3.28), tagGainDbi: -12, polarisationLossDb: dbOf(2) };
    const uw = wattOf(chipPowerDbm(link, 866.5e6, metres, () => 0.9)) * 1e6;
    expect(Math.abs(uw / microwatt - 1)).toBeLessThan(5e-4);
  });
});

describe("differential radar cross-section of a half-wave tag at 915 MHz", () => {
  // Barbot 2021 gives -22 dBsm for reflections 0 and -1 and -16 dBsm for +1 and -1; digits computed with a gain of 1.64.
  it.each([
    [1, -22, -22.408],
    [2, -16, -16.387],
  ])("|rho1 - rho2| = %i", (difference, published, computed) => {
    const dbsm = crossSectionDbsm(dbOf(1.64), difference, 915e6);
    expect(Math.abs(dbsm - published)).toBeLessThan(0.5);
    expect(dbsm).toBeCloseTo(computed, 3);
  });

  it("is the one that the radar equation takes", () => {
    const link = { ...bare, conductedDbm: 30, antennaGainDbi: 6, tagGainDbi: dbOf(1.64), reflectionDifference: 1 };
    // Pr = Pt G² λ² σ / ((4π)³ d⁴), written out in watt, with the 57.4 cm² that -22.408 dBsm are.
    const gain = 10 ** 0.6;
    const square = wavelengthM(915e6) ** 2;
    const watt = (1 * gain * gain * square * 57.4e-4) / ((4 * Math.PI) ** 3 * 1.5 ** 4);
    expect(Math.abs(backscatterDbm(link, 915e6, 1.5) - dbmOf(watt))).toBeLessThan(0.01);
  });
});

describe("limits", () => {
  // ETSI EN 302 208 V3.4.1: 2 W and 4 W ERP, EIRP = 1.64 ERP (from memory). FCC 47 CFR 15.247: 1 W and 6 dBi (from memory).
  it.each([
    ["eu_lower", 865e6, 868e6, 3.28, 35.16],
    ["eu_upper", 915e6, 921e6, 6.56, 38.17],
    ["us", 902e6, 928e6, 4, 36.02],
  ] as const)("%s", (region, lowHz, highHz, watt, dbm) => {
    const rule = ruleOf(region);
    expect([rule.lowHz, rule.highHz]).toEqual([lowHz, highHz]);
    expect(eirpLimitW(rule)).toBeCloseTo(watt, 9);
    expect(dbmOf(eirpLimitW(rule))).toBeCloseTo(dbm, 2);
  });
});

describe("far field at 866.5 MHz (computed)", () => {
  it("of an antenna of no size: lambda / 2 pi", () => expect(farFieldFromM(866.5e6, 0)).toBeCloseTo(0.0551, 4));
  it("of 10 cm: 2 D^2 / lambda", () => expect(farFieldFromM(866.5e6, 0.1)).toBeCloseTo(0.0578, 4));
  it("of 20 cm", () => expect(farFieldFromM(866.5e6, 0.2)).toBeCloseTo(0.231, 3));
});
