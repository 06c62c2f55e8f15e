/**
 * GUM (JCGM 100:2008) H.3, calibration of a thermometer: data of its Table H.6, results as published there. The further
 * digits were worked from the same data by closed formulas; they agree with the published ones.
 */
import { describe, expect, it } from "vitest";
import { inversePrediction, regress } from "../../host/calibrate/regression.ts";

const temperatures = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
const corrections = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
const fit = regress({ columns: [temperatures.map((t) => t - 20)], response: corrections, intercept: true });
const [y1, y2] = fit.coefficients as [number, number];
const [u1, u2] = fit.standardUncertainties as [number, number];
const r = fit.correlations[0]![1]!;
const at30 = fit.predict([10]);

/** Half a unit in the last published digit. */
const published = [
  ["y1 in °C", y1, -0.1712, 4],
  ["y2", y2, 0.00218, 5],
  ["u(y1) in °C", u1, 0.0029, 4],
  ["u(y2)", u2, 0.00067, 5],
  ["r(y1, y2)", r, -0.93, 3],
  ["s in °C", fit.residualSd, 0.0035, 4],
  ["b(30 °C) in °C", at30.value, -0.1494, 4],
  ["u(b(30 °C)) in °C", at30.standardUncertainty, 0.0041, 4],
] as const;

describe("the published digits", () => {
  it.each(published)("%s", (_, found, value, digits) => expect(found).toBeCloseTo(value, digits));

  it("nine degrees of freedom", () => expect(fit.degreesOfFreedom).toBe(9));
});

describe("all digits", () => {
  it.each([
    ["y1", y1, -0.17120379013135],
    ["y2", y2, 0.0021826977398872],
    ["s", fit.residualSd, 0.00349756396350529],
    ["u(y1)", u1, 0.00287759783515996],
    ["u(y2)", u2, 0.000667938773227833],
    ["r", r, -0.930429603093446],
    ["sum of squares", fit.residualSumOfSquares, 0.000110096583109297],
    ["b(30)", at30.value, -0.149376812732478],
    ["u(b(30))", at30.standardUncertainty, 0.00413859575285496],
  ] as const)("%s", (_, found, value) => expect(Math.abs(found / value - 1)).toBeLessThan(1e-9));
});

describe("a systematic part of 0.005 °C common to all (GTC documentation, example of GUM H.3)", () => {
  it("adds to the constant's uncertainty alone", () => {
    expect(Math.hypot(u1, 0.005)).toBeCloseTo(0.00576893138, 10);
  });
});

describe("read backwards", () => {
  it("gives the temperature at which the mean correction was", () => {
    const { value, standardUncertainty } = inversePrediction(fit, at30.value, 4);
    expect(value).toBeCloseTo(10, 9);
    expect(standardUncertainty).toBeCloseTo(Math.hypot(0.00349756396350529 / 2, 0.00413859575285496) / y2, 9);
  });
});
