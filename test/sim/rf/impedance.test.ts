import { describe, expect, it } from "vitest";
import { antennaOfTable } from "../../../sim/rf/antenna.ts";
import { type Chip, capacitanceOf, chipAt, chipImpedance, parallelAt } from "../../../sim/rf/chip.ts";
import { type Circuit, circuitImpedance } from "../../../sim/rf/circuit.ts";
import { inductorImpedance, parallelOf, selfResonanceHz } from "../../../sim/rf/inductor.ts";

const OMEGA = 2 * Math.PI * 866.5e6;

describe("antenna from a table", () => {
  const antenna = antennaOfTable([
    { frequencyHz: 860e6, impedance: { re: 10, im: 100 } },
    { frequencyHz: 870e6, impedance: { re: 20, im: 140 } },
    { frequencyHz: 880e6, impedance: { re: 50, im: 130 } },
  ]);
  it.each([
    [860e6, 10, 100],
    [865e6, 15, 120],
    [870e6, 20, 140],
    [872.5e6, 27.5, 137.5],
    [880e6, 50, 130],
  ])("at %f Hz", (hz, re, im) => expect(antenna.impedance(hz)).toEqual({ re, im }));
  it("knows its ends", () => expect([antenna.lowHz, antenna.highHz]).toEqual([860e6, 880e6]));
  it("may be one row", () => {
    const one = antennaOfTable([{ frequencyHz: 866e6, impedance: { re: 3, im: 4 } }]);
    expect(one.impedance(866e6)).toEqual({ re: 3, im: 4 });
  });
});

describe("circuits", () => {
  it("a loop coupled to a resonant dipole is R + jwL1 + (wM)^2 / Z2", () => {
    const [l1, l2, m, r1, r2, c] = [21e-9, 74e-9, 7.5e-9, 3.2, 30, 0.42e-12];
    const circuit: Circuit = {
      series: [
        { resistanceOhm: r1 },
        { inductanceH: l1 - m },
        {
          parallel: [
            { inductanceH: m },
            { series: [{ inductanceH: l2 - m }, { resistanceOhm: r2 }, { capacitanceF: c }] },
          ],
        },
      ],
    };
    const x2 = OMEGA * l2 - 1 / (OMEGA * c);
    const coupled = (OMEGA * m) ** 2 / (r2 * r2 + x2 * x2);
    const { re, im } = circuitImpedance(circuit, 866.5e6);
    expect(re).toBeCloseTo(r1 + coupled * r2, 9);
    expect(im).toBeCloseTo(OMEGA * l1 - coupled * x2, 9);
  });
});

describe("chip", () => {
  it("given in series has its reactance at its frequency, and that of the same capacitance at others", () => {
    const chip = { form: "series", resistanceOhm: 20, capacitanceF: capacitanceOf(-200, 900e6) } as const;
    expect(chipImpedance(chip, 900e6).im).toBeCloseTo(-200, 9);
    expect(chipImpedance(chip, 450e6)).toEqual({ re: 20, im: expect.closeTo(-400, 9) });
  });

  it("in parallel looks the same as in series at one frequency", () => {
    const series = { form: "series", resistanceOhm: 14, capacitanceF: 1e-12 } as const;
    const { re, im } = chipImpedance(parallelAt(series, 866.5e6), 866.5e6);
    expect(re).toBeCloseTo(14, 9);
    expect(im).toBeCloseTo(-1 / (OMEGA * 1e-12), 9);
  });

  const table: Chip = [
    { form: "parallel", powerDbm: -15, resistanceOhm: 2000, capacitanceF: 0.9e-12 },
    { form: "parallel", powerDbm: -10, resistanceOhm: 1500, capacitanceF: 1.0e-12 },
    { form: "parallel", powerDbm: 0, resistanceOhm: 500, capacitanceF: 1.2e-12 },
  ];
  it.each([
    [-30, 2000, 0.9],
    [-15, 2000, 0.9],
    [-12.5, 1750, 0.95],
    [-10, 1500, 1.0],
    [-5, 1000, 1.1],
    [0, 500, 1.2],
    [9, 500, 1.2],
  ])("by a table at %f dBm", (dbm, ohm, picofarad) => {
    const { resistanceOhm, capacitanceF } = chipAt(table, dbm);
    expect(resistanceOhm).toBeCloseTo(ohm, 9);
    expect(capacitanceF * 1e12).toBeCloseTo(picofarad, 9);
  });
});

describe("inductor", () => {
  it("has its series resistance by its Q", () => {
    const { re, im } = inductorImpedance({ inductanceH: 10e-9, q: 40, parallelF: 0 }, 866.5e6);
    expect(im).toBeCloseTo(OMEGA * 10e-9, 9);
    expect(re).toBeCloseTo((OMEGA * 10e-9) / 40, 9);
  });

  it("is a large resistance at its own resonance, and more inductive than it is below", () => {
    const coil = { inductanceH: 10e-9, q: 40, parallelF: parallelOf(10e-9, 3e9) };
    expect(selfResonanceHz(coil)).toBeCloseTo(3e9, 0);
    expect(inductorImpedance(coil, 3e9).re).toBeGreaterThan(40 * 40 * ((2 * Math.PI * 3e9 * 10e-9) / 40) * 0.99);
    // Lossless below: X / (1 - (f/f0)^2).
    expect(inductorImpedance({ ...coil, q: 1e9 }, 1e9).im).toBeCloseTo((2 * Math.PI * 10) / (1 - 1 / 9), 6);
  });
});
