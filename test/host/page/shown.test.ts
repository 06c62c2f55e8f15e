import { describe, expect, it } from "vitest";
import { shownOf } from "../../../host/page/store/shown.ts";
import { timed } from "./support/reading.ts";

describe("what a site shows", () => {
  it("is a number when it is fresh and its uncertainty known", () => {
    expect(shownOf(timed(10), 10.5)).toEqual({ shows: "number", ageS: 0.5, gaugeMmhg: 42, uncertaintyMmhg: 0.5 });
  });

  it("is unsure without a known uncertainty", () => {
    const { shows, uncertaintyMmhg } = shownOf(
      timed(10, { expanded_uncertainty_mmhg: null, quality: ["uncalibrated"] }),
      10,
    );
    expect([shows, uncertaintyMmhg]).toEqual(["unsure", null]);
  });

  it("is no number without an ambient pressure", () => {
    const reading = timed(10, { gauge_mmhg: null, expanded_uncertainty_mmhg: null, quality: ["ambient_missing"] });
    expect(shownOf(reading, 10)).toEqual({ shows: "absolute", ageS: 0, gaugeMmhg: null, uncertaintyMmhg: null });
  });

  it.each(["sensor_fault", "pressure_at_limit", "pressure_not_measured", "gauge_out_of_range"] as const)(
    "is no number under the gravest flags: %s",
    (flag) => {
      const shown = shownOf(timed(10, { quality: ["supply_low", flag] }), 10);
      expect(shown).toMatchObject({ shows: "invalid", gaugeMmhg: null, uncertaintyMmhg: null });
    },
  );

  it("is no number when the frame held no pressure, whatever the flags say", () => {
    expect(shownOf(timed(10, { absolute_hpa: null, gauge_mmhg: null }), 10).shows).toBe("invalid");
  });

  // The rule of host/readings: older than three sampling periods and two seconds.
  it.each([
    [0.25, 2, "number"],
    [0.25, 2.01, "stale"],
    [2, 6, "number"],
    [2, 6.01, "stale"],
  ])("with a sampling period of %s s and an age of %s s it is %s", (period, ageS, shows) => {
    const tag = { firmware: "1.0", sampling_period_s: period, sensor_serial: 1 };
    expect(shownOf(timed(100, { tag }), 100 + ageS).shows).toBe(shows);
  });

  it("counts the age the frame had when it was reported", () => {
    expect(shownOf(timed(100, { age_s: 1.5 }), 100.25)).toMatchObject({ shows: "number", ageS: 1.75 });
    expect(shownOf(timed(100, { age_s: 1.5 }), 100.6).shows).toBe("stale");
  });

  it("is stale after two seconds when the period is not known", () => {
    expect(shownOf(timed(100, { tag: null }), 102.1).shows).toBe("stale");
  });

  it("stays stale before anything else: an old invalid frame is old first", () => {
    expect(shownOf(timed(100, { quality: ["sensor_fault"] }), 110)).toMatchObject({ shows: "stale", gaugeMmhg: null });
  });

  it("is absent when nothing was ever heard", () => {
    expect(shownOf(null, 10)).toEqual({ shows: "absent", ageS: null, gaugeMmhg: null, uncertaintyMmhg: null });
  });
});
