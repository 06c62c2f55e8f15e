import { describe, expect, it } from "vitest";
import { classTag } from "../../../sim/power/class-tag.ts";
import { live, type Moment } from "../../../sim/power/life.ts";
import { curveOf, momentsIn, states } from "../../../sim/power/voltage-curve.ts";

/** 3 s of constant power from 1 V to 2 V: the energy in the store, and so the square of the voltage, rises evenly. */
const charging: Moment = { fromS: 0, toS: 3, activity: "off", fromV: 1, toV: 2 };

describe("the curve", () => {
  it("is bent as charging with constant power bends it", () => {
    const curve = curveOf(charging);
    expect([curve[0], curve.at(-1)]).toEqual([
      { s: 0, v: 1 },
      { s: 3, v: 2 },
    ]);
    for (const { s, v } of curve) expect(v ** 2).toBeCloseTo(1 + s, 9);
    expect(curve.length).toBeGreaterThan(10);
  });

  it("of a short change is a straight line", () => {
    expect(curveOf({ ...charging, toV: 1.02 })).toHaveLength(2);
  });
});

describe("a window", () => {
  it("cuts what reaches beyond it, at the voltage there, and leaves out what does not touch it", () => {
    const before: Moment = { fromS: -1, toS: 0, activity: "off", fromV: 0, toV: 1 };
    const [only, ...others] = momentsIn([before, charging, { ...charging, fromS: 3, toS: 4 }], 1, 2);
    expect(others).toEqual([]);
    expect(only).toMatchObject({ fromS: 1, toS: 2, activity: "off" });
    expect([only!.fromV, only!.toV]).toEqual([Math.SQRT2, Math.sqrt(3)]);
  });

  it("leaves a moment inside as it is", () => {
    expect(momentsIn([charging], -1, 4)).toEqual([charging]);
  });
});

describe("the states", () => {
  it("have every activity of a life in exactly one row", () => {
    const seen = new Set<string>();
    live(classTag, { untilS: 60, observe: ({ activity }) => seen.add(activity) });
    expect(seen.size).toBeGreaterThan(8);
    for (const activity of seen) {
      expect([activity, states.filter(({ has }) => (has as readonly string[]).includes(activity)).length]).toEqual([
        activity,
        1,
      ]);
    }
  });
});
