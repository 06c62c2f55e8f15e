import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { antennaOfCircuit, antennaOfTable } from "../../../sim/rf/antenna.ts";
import { bodeFanoLimit } from "../../../sim/rf/bode-fano.ts";
import type { Chip } from "../../../sim/rf/chip.ts";
import { bandwidthAt, type Match, matchAt, overBand, rankInductors } from "../../../sim/rf/match.ts";
import { transmission } from "../../../sim/rf/transmission.ts";
import { wilson, yieldOf } from "../../../sim/rf/yield.ts";

/** Resonant at 900 MHz with equal resistances: τ = 1 / (1 + (X / 2R)²) in closed form. */
const R = 20;
const L = 40e-9;
const C = 1 / ((2 * Math.PI * 900e6) ** 2 * L);
const resonant: Match = {
  antenna: antennaOfCircuit({ series: [{ resistanceOhm: R }, { inductanceH: L }] }),
  chip: [{ form: "series", powerDbm: 0, resistanceOhm: R, capacitanceF: C }],
  inductor: null,
};
const tauAt = (hz: number) => matchAt(resonant, hz, 0);

describe("transmission", () => {
  it("lies between 0 and 1, is the same from either end and 1 for the conjugate", () => {
    const ohm = fc.double({ min: 0.1, max: 5000, noNaN: true });
    const reactance = fc.double({ min: -5000, max: 5000, noNaN: true });
    fc.assert(
      fc.property(ohm, reactance, ohm, reactance, (ra, xa, rc, xc) => {
        const [a, c] = [
          { re: ra, im: xa },
          { re: rc, im: xc },
        ];
        const tau = transmission(a, c);
        expect(tau).toBeGreaterThanOrEqual(0);
        expect(tau).toBeLessThanOrEqual(1 + 1e-12);
        expect(tau).toBe(transmission(c, a));
        expect(transmission(a, { re: ra, im: -xa })).toBeCloseTo(1, 12);
      }),
    );
  });
});

describe("bandwidth", () => {
  it("of a resonant pair at 0.5 is where the reactance is twice the resistance", () => {
    const width = bandwidthAt(tauAt, 0.5, 900e6, { lowHz: 500e6, highHz: 1500e6 })!;
    // X = wL - 1/wC = ±2R solved for w.
    const edge = (sign: number) => {
      const half = (2 * R * sign) / (2 * L);
      return (half + Math.sqrt(half * half + 1 / (L * C))) / (2 * Math.PI);
    };
    expect(width.lowHz / 1e6).toBeCloseTo(edge(-1) / 1e6, 5);
    expect(width.highHz / 1e6).toBeCloseTo(edge(1) / 1e6, 5);
    expect([width.lowOpen, width.highOpen]).toEqual([false, false]);
  });

  it("says that data end before the edge", () => {
    const width = bandwidthAt(tauAt, 0.5, 900e6, { lowHz: 500e6, highHz: 910e6 })!;
    expect(width).toMatchObject({ highHz: 910e6, lowOpen: false, highOpen: true });
    const low = bandwidthAt(tauAt, 0.5, 900e6, { lowHz: 890e6, highHz: 1500e6 })!;
    expect(low).toMatchObject({ lowHz: 890e6, lowOpen: true, highOpen: false });
  });

  it("is none below the level", () => {
    expect(bandwidthAt(tauAt, 0.5, 600e6, { lowHz: 500e6, highHz: 1500e6 })).toBeNull();
  });
});

describe("band", () => {
  it("worst, best and mean of a straight line", () => {
    const band = { lowHz: 1e6, highHz: 2e6 };
    const { worst, worstHz, best, bestHz, mean } = overBand(band, (hz) => 3 - hz / 1e6);
    expect([worst, worstHz, best, bestHz]).toEqual([1, 2e6, 2, 1e6]);
    expect(mean).toBeCloseTo(1.5, 12);
  });
});

describe("choice of an inductor", () => {
  const coils = [10e-9, 20e-9, 30e-9].map((inductanceH) => ({ inductanceH, q: 50, parallelF: 0 }));
  const antenna = antennaOfTable([
    { frequencyHz: 860e6, impedance: { re: 20, im: 60 } },
    { frequencyHz: 940e6, impedance: { re: 20, im: 60 } },
  ]);
  const chip: Chip = [
    { form: "series", powerDbm: 0, resistanceOhm: 20, capacitanceF: 1 / (2 * Math.PI * 900e6 * 180) },
  ];

  it("ranks every value and none at all", () => {
    const ranked = rankInductors({ antenna, chip }, coils, { lowHz: 895e6, highHz: 905e6 }, 0, "worst");
    expect(ranked.map(({ inductor }) => inductor && Math.round(inductor.inductanceH * 1e9))).toEqual([
      20,
      30,
      10,
      null,
    ]);
    expect([...ranked].sort((a, b) => b.worst - a.worst)).toEqual(ranked);
  });

  it("goes by the mean when asked, which may choose otherwise", () => {
    // Reactances that remain in most of the band and at its upper edge, in ohm: 0 and -163 with 10 nH, 57 and -107 with
    // 20 nH, 113 and -48 with 30 nH.
    const skewed = antennaOfTable([
      { frequencyHz: 890e6, impedance: { re: 20, im: 123 } },
      { frequencyHz: 908e6, impedance: { re: 20, im: 123 } },
      { frequencyHz: 910e6, impedance: { re: 20, im: -40 } },
    ]);
    const band = { lowHz: 890e6, highHz: 910e6 };
    const best = (goal: "worst" | "mean") => rankInductors({ antenna: skewed, chip }, coils, band, 0, goal)[0]!;
    expect(best("mean").inductor!.inductanceH).toBe(10e-9);
    expect(best("worst").inductor!.inductanceH).toBe(20e-9);
  });

  it("leaves out what resonates by itself below the band", () => {
    const parallelF = 1 / ((2 * Math.PI * 900e6) ** 2 * 20e-9);
    const some = coils.map((coil) => ({ ...coil, parallelF }));
    const ranked = rankInductors({ antenna, chip }, some, { lowHz: 895e6, highHz: 905e6 }, 0, "worst");
    expect(ranked.map(({ inductor }) => inductor?.inductanceH)).toEqual(expect.arrayContaining([undefined, 10e-9]));
    expect(ranked.length).toBe(2);
  });

  it("takes the chip at the power asked for", () => {
    const twofold: Chip = [
      { form: "series", powerDbm: -10, resistanceOhm: 20, capacitanceF: 1 / (2 * Math.PI * 900e6 * 120) },
      { form: "series", powerDbm: 0, resistanceOhm: 20, capacitanceF: 1 / (2 * Math.PI * 900e6 * 230) },
    ];
    const best = (dbm: number) =>
      rankInductors({ antenna, chip: twofold }, coils, { lowHz: 895e6, highHz: 905e6 }, dbm, "worst")[0]!;
    expect(best(-10).inductor!.inductanceH).toBe(10e-9);
    expect(best(0).inductor!.inductanceH).toBe(30e-9);
  });
});

describe("yield", () => {
  const none = { inductance: 0, chipResistance: 0, chipCapacitance: 0, antennaResistance: 0, antennaReactance: 0 };
  const point = { lowHz: 899.999e6, highHz: 900.001e6 };

  it("of one scattering reactance is the share of its range in which tau holds", () => {
    // τ ≥ 0.8 where |X| ≤ R; the antenna's 226 ohm scatter by 15 %, so ±R is 20 of ±33.9 ohm.
    const reactance = 2 * Math.PI * 900e6 * L;
    const share = R / (0.15 * reactance);
    const { low, high, passed, trials } = yieldOf(
      resonant,
      point,
      0,
      0.8,
      { ...none, antennaReactance: 0.15 },
      20_000,
      3,
    );
    expect(passed / trials).toBeCloseTo(share, 1);
    expect(low).toBeLessThan(share);
    expect(high).toBeGreaterThan(share);
  });

  it.each(Object.keys(none))("%s lowers it", (part) => {
    const match: Match = {
      ...resonant,
      antenna: antennaOfCircuit({ series: [{ resistanceOhm: R }, { inductanceH: L - 10e-9 }] }),
      inductor: { inductanceH: 10e-9, q: 1e6, parallelF: 0 },
    };
    const of = (tolerances: typeof none) => yieldOf(match, point, 0, 0.7, tolerances, 500, 1).passed;
    expect(of(none)).toBe(500);
    expect(of({ ...none, [part]: 0.9 })).toBeLessThan(500);
  });

  it("is the same for the same seed and another for another", () => {
    const of = (seed: number) => yieldOf(resonant, point, 0, 0.8, { ...none, antennaReactance: 0.15 }, 2000, seed);
    expect(of(5)).toEqual(of(5));
    expect(of(5).passed).not.toBe(of(6).passed);
  });

  // Wilson 1927 in closed form: none of n gives z²/(n + z²) as the upper end; 81 of 263 is an example of Newcombe 1998
  // (0.2553 to 0.3662, from memory).
  it("has Wilson's interval", () => {
    expect(wilson(0, 10)).toEqual({ low: 0, high: expect.closeTo(0.27753, 4) });
    expect(wilson(10, 10)).toEqual({ low: expect.closeTo(0.72247, 4), high: expect.closeTo(1, 12) });
    expect(wilson(81, 263)).toEqual({ low: expect.closeTo(0.2553, 4), high: expect.closeTo(0.3662, 4) });
  });
});

describe("Bode-Fano bound", () => {
  it("makes the area under ln(1/|reflection|) exactly pi / RC", () => {
    const band = { lowHz: 800e6, highHz: 1000e6 };
    const tau = bodeFanoLimit({ form: "parallel", resistanceOhm: 1600, capacitanceF: 0.98e-12 }, band);
    const area = 2 * Math.PI * 200e6 * Math.log(1 / Math.sqrt(1 - tau));
    expect(area).toBeCloseTo(Math.PI / (1600 * 0.98e-12), -3);
  });
});
