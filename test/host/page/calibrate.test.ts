/** The view of the calibration without its elements. */
import { describe, expect, it } from "vitest";
import { fittedCurve, residualSpan } from "../../../host/page/calibrate/fit-plots.ts";
import { type Light, lightOf } from "../../../host/page/calibrate/stability-light.ts";
import { loadsOf } from "../../../host/page/calibrate/start-form.ts";
import type { CalibrationPoint, StabilityJudgement } from "../../../host/view/messages.ts";

describe("the light", () => {
  const judged = (changes: Partial<StabilityJudgement>): StabilityJudgement => ({
    stable: false,
    count: 8,
    least_count: 8,
    change_pa: 2,
    scatter_pa: 3,
    change_limit_pa: 5,
    scatter_limit_pa: 10,
    ...changes,
  });

  it.each<[Light, Partial<StabilityJudgement>]>([
    ["settled", { stable: true }],
    ["few", { count: 7, change_pa: 40 }],
    ["few", { count: 2, change_pa: null, scatter_pa: null }],
    ["moving", { change_pa: 6 }],
    ["moving", { change_pa: -6, scatter_pa: 20 }],
    ["rough", { scatter_pa: 11 }],
  ])("is %s for %o", (light, changes) => {
    expect(lightOf(judged(changes))).toBe(light);
  });
});

describe("typed loads", () => {
  it("are divided by spaces, semicolons or commas", () => {
    expect(["0 20 40", "0, 20, 40", "0;20; 40", "0,20,40"].map(loadsOf)).toEqual(new Array(4).fill([0, 20, 40]));
    expect(["0 12,5 40", "0; 12.5; 40"].map(loadsOf)).toEqual(new Array(2).fill([0, 12.5, 40]));
    expect(loadsOf("60")).toEqual([60]);
  });

  it("rise, within what the server takes", () => {
    expect(["", "0 40 20", "0 0", "-1 5", "0 301", "0 x"].map(loadsOf)).toEqual(new Array(6).fill(null));
    const many = (count: number) => Array.from({ length: count }, (_, i) => i).join(" ");
    expect([loadsOf(many(20))?.length, loadsOf(many(21))]).toEqual([20, null]);
  });
});

describe("what is drawn of a fit", () => {
  const point = (
    reference_mmhg: number,
    sensor_gauge_mmhg: number,
    residual_mmhg: number | null,
  ): CalibrationPoint => ({
    step: 1,
    cycle: 1,
    direction: "up",
    reference_mmhg,
    sensor_gauge_mmhg,
    temperature_cel: null,
    residual_mmhg,
    unsettled: false,
  });

  it("is what it reads, over what the tag gave, from the lowest up; points it does not cover are left out", () => {
    expect(fittedCurve([point(40, 36, 0.5), point(0, 0.1, -0.25), point(20, 18, null)])).toEqual([
      [-0.25, 0.1],
      [40.5, 36],
    ]);
  });

  it("has room for every residual and for U, and none for noise to look like an error", () => {
    expect(residualSpan([point(0, 0, 0.01)], null)).toBeCloseTo(0.25, 9);
    expect(residualSpan([point(0, 0, -0.8)], 0.4)).toBeCloseTo(1, 9);
    expect(residualSpan([point(0, 0, 0.1)], 1.6)).toBeCloseTo(2, 9);
  });
});
