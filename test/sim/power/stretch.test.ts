import fc from "fast-check";
import { Solver } from "odex";
import { describe, expect, it } from "vitest";
import { equilibriumV, insideOf, nodeOf, type Stretch, timeTo, voltageAfter } from "../../../sim/power/stretch.ts";

const none = { powerW: 0, currentA: 0, leakageS: 0, capacitanceF: 100e-6, esrOhm: 0 };

describe("the textbook's cases", () => {
  it("has V squared rise in a straight line under constant power: 100 uF from 1.8 V to 3 V at 20 uW takes 14.4 s", () => {
    // E = C·(V1² − V2²)/2 = 288 uJ.
    expect(timeTo({ ...none, powerW: 20e-6 }, 1.8, 3)).toBeCloseTo(14.4, 9);
    expect(timeTo({ ...none, powerW: 20e-6 }, 0, 3)).toBeCloseTo(22.5, 9);
    expect(voltageAfter({ ...none, powerW: 20e-6 }, 1.8, 14.4)).toBeCloseTo(3, 12);
    // 10 uF, 20 uW, from 0.5 V: sqrt(0.25 + 4t).
    expect(voltageAfter({ ...none, capacitanceF: 10e-6, powerW: 20e-6 }, 0.5, 2)).toBeCloseTo(Math.sqrt(8.25), 12);
  });

  it("has V fall in a straight line under constant current", () => {
    expect(voltageAfter({ ...none, currentA: 1e-3 }, 2.4, 0.05)).toBeCloseTo(1.9, 12);
    expect(timeTo({ ...none, currentA: 1e-3 }, 2.4, 1.9)).toBeCloseTo(0.05, 12);
    expect(voltageAfter({ ...none, currentA: 1e-3 }, 2.4, 10)).toBe(0);
  });

  it("has V fall by 1/e in R·C", () => {
    expect(voltageAfter({ ...none, leakageS: 1e-4 }, 2, 1)).toBeCloseTo(2 / Math.E, 12);
    expect(timeTo({ ...none, leakageS: 1e-4 }, 2, 2 / Math.E)).toBeCloseTo(1, 12);
  });

  it("has the node jump by R·I when a load is switched on, and not the capacitor", () => {
    expect(nodeOf({ ...none, esrOhm: 50, currentA: 1e-3 }, 2)).toBeCloseTo(1.95, 12);
    expect(insideOf({ ...none, esrOhm: 50, currentA: 1e-3 }, 1.95)).toBeCloseTo(2, 12);
  });

  it("says that a voltage beyond rest, or the other way, is never reached", () => {
    const fed = { ...none, powerW: 20e-6, currentA: 10e-6 };
    expect(equilibriumV(fed)).toBeCloseTo(2, 12);
    expect(timeTo(fed, 1, 2)).toBe(Number.POSITIVE_INFINITY);
    expect(timeTo(fed, 1, 0.9)).toBe(Number.POSITIVE_INFINITY);
    expect(timeTo(fed, 3, 2.1)).toBeGreaterThan(0);
    expect(voltageAfter(fed, 1, 1e9)).toBeCloseTo(2, 9);
    expect(timeTo(none, 1, 0.5)).toBe(Number.POSITIVE_INFINITY);
  });
});

/** Powers of ten from one to another. */
const decades = (from: number, to: number) => fc.double({ min: from, max: to, noNaN: true }).map((e) => 10 ** e);
const orNone = (value: fc.Arbitrary<number>) =>
  fc.oneof({ weight: 1, arbitrary: fc.constant(0) }, { weight: 4, arbitrary: value });

const stretches: fc.Arbitrary<Stretch> = fc.record({
  powerW: orNone(decades(-6, -2)),
  currentA: orNone(decades(-7, -3)),
  leakageS: orNone(decades(-8, -4)),
  capacitanceF: decades(-6, -3),
  esrOhm: orNone(decades(-2, 2)),
});

describe("any stretch", () => {
  it("goes where a solver of differential equations takes it (odex, extrapolation, relative tolerance 1e-10)", () => {
    fc.assert(
      fc.property(stretches, fc.double({ min: 1, max: 3, noNaN: true }), decades(-3, 0), (stretch, startV, seconds) => {
        const { powerW, currentA, leakageS, capacitanceF, esrOhm } = stretch;
        const fromV = nodeOf(stretch, startV);
        // The node's voltage from the circuit's law by iteration, not by the formula under test.
        const current = (inside: number) => {
          let node = inside;
          for (let i = 0; i < 200; i++) node = inside + esrOhm * (powerW / node - currentA - leakageS * node);
          return powerW / node - currentA - leakageS * node;
        };
        const afterV = voltageAfter(stretch, fromV, seconds);
        // Near 0 V the load of a real tag is off; and the iteration above needs a resistance that is small beside V/I.
        fc.pre(afterV > 0.5 && esrOhm * (powerW / 0.25 + leakageS) < 0.5 && startV - esrOhm * currentA > 0.9);
        const solver = new Solver(1);
        solver.absoluteTolerance = 1e-12;
        solver.relativeTolerance = 1e-10;
        const [inside] = solver.solve((_t, [v]) => [current(v!) / capacitanceF], 0, [startV], seconds).y;
        expect(insideOf(stretch, afterV)).toBeCloseTo(inside!, 7);
      }),
      { numRuns: 150 },
    );
  });

  it("takes as long there as it is given, and as long in two parts as in one", () => {
    fc.assert(
      fc.property(stretches, fc.double({ min: 1, max: 3, noNaN: true }), decades(-6, 1), (stretch, startV, seconds) => {
        const fromV = nodeOf(stretch, startV);
        fc.pre(fromV > 0.1);
        const halfV = voltageAfter(stretch, fromV, seconds / 2);
        const fullV = voltageAfter(stretch, fromV, seconds);
        expect(voltageAfter(stretch, halfV, seconds / 2)).toBeCloseTo(fullV, 9);
        const rest = equilibriumV(stretch);
        // Near rest a voltage hardly says what time it is.
        fc.pre(Math.abs(fullV - rest) > 1e-5 * fullV && Math.abs(fullV - fromV) > 1e-6 && fullV > 1e-3);
        expect(timeTo(stretch, fromV, fullV) / seconds).toBeCloseTo(1, 6);
      }),
      { numRuns: 2000 },
    );
  });
});
