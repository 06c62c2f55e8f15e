/**
 * Static errors by the definitions of IEC 61298-2 and ISA-51.1 (read in secondary sources). Expected figures were worked by
 * hand from those definitions; the up-and-down set with its 4.08 % is a worked example of a public instrumentation course.
 */
import { describe, expect, it } from "vitest";
import {
  creep,
  type Direction,
  hysteresis,
  nonLinearity,
  repeatability,
  type StaticPoint,
  zeroReturns,
} from "../../host/calibrate/static-errors.ts";

const run = (inputs: readonly number[], outputs: readonly number[], direction: Direction, cycle = 1): StaticPoint[] =>
  inputs.map((input, i) => ({ input, output: outputs[i]!, direction, cycle }));

describe("non-linearity of 0, 10.6, 20.9, 31.0, 40.8, 50.5, 60.0 over 0 to 60", () => {
  const inputs = [0, 10, 20, 30, 40, 50, 60];
  const found = nonLinearity(run(inputs, [0, 10.6, 20.9, 31, 40.8, 50.5, 60], "up"), 60)!;

  it("from the terminal line: 1.0 at 30, 1.6667 %", () => {
    expect(found.terminal.value).toBeCloseTo(1, 10);
    expect(found.terminal.atInput).toBe(30);
    expect(100 * found.terminal.ofSpan).toBeCloseTo(1.6667, 4);
  });

  it("from the independent line 0.5 + x: 0.83333 %", () => {
    expect(found.independent.constant).toBeCloseTo(0.5, 10);
    expect(found.independent.slope).toBeCloseTo(1, 10);
    expect(100 * found.independent.ofSpan).toBeCloseTo(0.83333, 5);
  });

  it("from the line of least squares: 0.95833 %", () => {
    expect(found.leastSquares.constant).toBeCloseTo(0.575, 10);
    expect(found.leastSquares.slope).toBeCloseTo(0.99892857, 8);
    expect(100 * found.leastSquares.ofSpan).toBeCloseTo(0.95833, 5);
  });

  it("is not given for two points", () => expect(nonLinearity(run([0, 1], [0, 1], "up"), 1)).toBeNull());
});

describe("a small run up and down", () => {
  const up = run([0, 1, 2, 3, 4, 5], [0.1, 1.1, 2.1, 3, 4.1, 5], "up");
  const down = run([5, 4, 3, 2, 1, 0], [5, 4.2, 3.2, 2.2, 1.2, 0.2], "down");

  it("has 0.2 of hysteresis at 3, 4.08 % of 4.9", () => {
    const found = hysteresis([...up, ...down], 4.9)!;
    expect(found.value).toBeCloseTo(0.2, 10);
    expect(found.atInput).toBe(3);
    expect(100 * found.ofSpan).toBeCloseTo(4.08, 2);
  });

  it("returns to zero 0.1 too high", () => {
    expect(zeroReturns([...up, ...down])).toEqual([{ cycle: 1, value: expect.closeTo(0.1, 10) }]);
  });

  it("has no hysteresis one way", () => expect(hysteresis(up, 4.9)).toBeNull());
  it("has no repeatability in one cycle", () => expect(repeatability([...up, ...down], 4.9)).toBeNull());
});

describe("repeatability", () => {
  it("pools the scatter of the same direction: 0.1, 0.3 and 1.0, 1.0, 1.3 give sqrt((0.02 + 0.06) / 3)", () => {
    const points = [0.1, 0.3].flatMap((output, i) => run([0], [output], "up", i + 1));
    const more = [1, 1, 1.3].flatMap((output, i) => run([0], [output], "down", i + 1));
    const found = repeatability([...points, ...more], 10)!;
    expect(found.sd).toBeCloseTo(Math.sqrt((0.02 + 0.06) / 3), 10);
    expect(found.degreesOfFreedom).toBe(3);
    expect(found.range.value).toBeCloseTo(0.3, 10);
  });
});

describe("creep", () => {
  it("is the change over the hold", () => {
    const hold = [
      { timeS: 10, output: 100 },
      { timeS: 70, output: 103 },
      { timeS: 610, output: 104.5 },
    ];
    expect(creep(hold, 40)).toEqual({ input: 40, value: 4.5, durationS: 600 });
    expect(creep(hold.slice(0, 1), 40)).toBeNull();
  });
});
