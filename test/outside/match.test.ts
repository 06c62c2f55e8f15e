/** Matching against published values and against scikit-rf's power waves. */
import { describe, expect, it } from "vitest";
import { Random } from "../../sim/random.ts";
import { antennaOfCircuit } from "../../sim/rf/antenna.ts";
import { capacitanceOf, chipImpedance } from "../../sim/rf/chip.ts";
import { add } from "../../sim/rf/complex.ts";
import { dbOf } from "../../sim/rf/decibel.ts";
import { type Inductor, inductorImpedance } from "../../sim/rf/inductor.ts";
import { matchAt, rankInductors } from "../../sim/rf/match.ts";
import { preferredValues } from "../../sim/rf/preferred-values.ts";
import { transmission } from "../../sim/rf/transmission.ts";
import { askScikitRf, needsScikitRf } from "../support/scikit-rf.ts";

describe("published and computed values of tau", () => {
  // First row: a published tag design, "98 % match"; digits computed from 4 Ra Rc / |Za + Zc|^2. The rest: computed, and
  // agreed on by scikit-rf 0.15.4.
  it.each([
    [{ re: 12.4, im: 128.4 }, { re: 14.8, im: -127.1 }, 0.989953],
    [{ re: 10, im: 200 }, { re: 20, im: -200 }, 0.888889],
    [{ re: 20, im: 180 }, { re: 20, im: -200 }, 0.8],
    [{ re: 73, im: 42.5 }, { re: 50, im: 0 }, 0.862107],
  ])("%o with %o", (antenna, chip, tau) => {
    expect(transmission(antenna, chip)).toBeCloseTo(tau, 6);
  });
});

describe("reactances at 866.5 MHz, computed from 2 pi f L", () => {
  it.each([
    [8.2, 44.64],
    [10, 54.44],
    [33, 179.66],
    [39, 212.33],
  ])("%f nH", (nh, ohm) => {
    const coil: Inductor = { inductanceH: nh * 1e-9, q: Infinity, parallelF: 0 };
    expect(inductorImpedance(coil, 866.5e6).im).toBeCloseTo(ohm, 2);
  });
});

describe("missing reactance and the value of E24 next to it", () => {
  // 50 ohm need 9.184 nH, 110 ohm 20.204 nH and 200 ohm 36.735 nH at 866.5 MHz (computed).
  it.each([
    [50, 9.1],
    [110, 20],
    [200, 36],
  ])("%i ohm", (missing, nh) => {
    const antenna = { lowHz: 0, highHz: Infinity, impedance: () => ({ re: 15, im: 250 - missing }) };
    const chip = [
      { form: "series", powerDbm: 0, resistanceOhm: 15, capacitanceF: 1 / (2 * Math.PI * 866.5e6 * 250) },
    ] as const;
    const coils = preferredValues("E24", 1, 100).map((value) => ({ inductanceH: value * 1e-9, q: 1e6, parallelF: 0 }));
    const [best] = rankInductors({ antenna, chip }, coils, { lowHz: 866e6, highHz: 867e6 }, 0, "mean");
    expect(best!.inductor!.inductanceH * 1e9).toBeCloseTo(nh, 9);
  });
});

describe("an antenna of 20 + 150j ohm and a chip of 12 - 130j ohm at 910 MHz with a coil between them", () => {
  // Decibels from scikit-rf 0.15.4, antenna reactance in proportion to frequency, chip reactance to its inverse.
  const antenna = antennaOfCircuit({
    series: [{ resistanceOhm: 20 }, { inductanceH: 150 / (2 * Math.PI * 910e6) }],
  });
  const chip = [{ form: "series", powerDbm: 0, resistanceOhm: 12, capacitanceF: capacitanceOf(-130, 910e6) }] as const;
  it.each([
    [0, [-0.354, -0.471, -1.712, -1.903, -3.699]],
    [1, [-0.655, -0.873, -2.444, -2.653, -4.505]],
    [2, [-1.144, -1.439, -3.214, -3.431, -5.283]],
  ])("%i nH", (nh, expected) => {
    const inductor = { inductanceH: nh * 1e-9, q: Infinity, parallelF: 0 };
    const db = [860, 868, 910, 915, 960].map((mhz) => dbOf(matchAt({ antenna, chip, inductor }, mhz * 1e6, 0)));
    db.forEach((value, i) => {
      expect(value).toBeCloseTo(expected[i]!, 3);
    });
  });
});

describe("preferred values", () => {
  // IEC 60063, from memory.
  it("E12", () => expect(preferredValues("E12", 10, 82)).toEqual([10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82]));
  it("E24 has 24 of them and E48 48", () => {
    expect(preferredValues("E24", 1, 9.99).length).toBe(24);
    expect(preferredValues("E48", 100, 999).length).toBe(48);
  });
  it("E48 around 47", () => expect(preferredValues("E48", 44, 52)).toEqual([44.2, 46.4, 48.7, 51.1]));
});

it("a parallel chip behaves as its impedance does", () => {
  const chip = { form: "parallel", resistanceOhm: 1600, capacitanceF: 0.98e-12 } as const;
  const { re, im } = chipImpedance(chip, 866.5e6);
  // 1600 ohm beside 0.98 pF, by hand: Q = 2 pi f R C = 8.5369, R / (1 + Q^2) and Q times that.
  expect(re).toBeCloseTo(21.657, 2);
  expect(im).toBeCloseTo(-184.88, 1);
});

needsScikitRf(() => {
  const random = new Random(20, "impedances");
  const between = (low: number, high: number) => low + (high - low) * random.fraction();
  const pairs = Array.from(
    { length: 300 },
    () => [between(0.5, 120), between(-300, 300), between(0.5, 120), between(-400, 100)] as const,
  );
  const coils = Array.from(
    { length: 40 },
    () => [between(1e-9, 100e-9), between(800e6, 1e9), between(1, 60), between(-300, -50)] as const,
  );
  const { tau, inductors } = askScikitRf({ pairs, inductors: coils });

  it("tau of random impedances is 1 - |s|^2 of power waves", () => {
    pairs.forEach(([sourceRe, sourceIm, loadRe, loadIm], i) => {
      const ours = transmission({ re: sourceRe, im: sourceIm }, { re: loadRe, im: loadIm });
      expect(Math.abs(ours - tau[i]!)).toBeLessThan(1e-12);
    });
  });

  it("a series inductor adds its reactance to the load's", () => {
    coils.forEach(([inductanceH, hertz, re, im], i) => {
      const ours = add(inductorImpedance({ inductanceH, q: Infinity, parallelF: 0 }, hertz), { re, im });
      expect(Math.abs(ours.re - inductors[i]![0])).toBeLessThan(1e-9);
      expect(Math.abs(ours.im - inductors[i]![1])).toBeLessThan(1e-9);
    });
  });
});
