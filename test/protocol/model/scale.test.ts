/** Scaling against values worked by hand; the working stands beside each. */
import { describe, expect, it } from "vitest";
import type { CompiledField } from "../../../protocol/model/layout.ts";
import { toRaw, toValue } from "../../../protocol/model/scale.ts";

function field(more: Partial<CompiledField>): CompiledField {
  return {
    id: "x",
    path: "r.x",
    type: "signed",
    why: "Test.",
    byte: 0,
    bytes: 2,
    little: false,
    shift: 0,
    width: 16,
    signed: true,
    coldStart: null,
    unit: "Pa",
    num: 1,
    den: 1,
    add: 0,
    rounding: "half-away-from-zero",
    outOfRange: "saturate",
    min: -1000,
    max: 1000,
    sentinels: [],
    ...more,
  };
}

describe("toValue", () => {
  it("is (raw * num + add) / den", () => {
    expect(toValue(field({ den: 128 }), 64)).toBe(0.5);
    expect(toValue(field({ num: 3, den: 4, add: 2 }), 6)).toBe(5); // (18 + 2) / 4
    expect(toValue(field({ den: 100 }), -250)).toBe(-2.5);
  });

  it("is the raw integer where a field has no scale", () => {
    const { num, den, add, sentinels, ...constant } = field({ type: "constant" });
    expect(toValue(constant, 7)).toBe(7);
  });

  it("has no value for an absent one and the highest for a saturated one", () => {
    const sentinels = [
      { raw: -32_768, id: "missing", means: "absent" },
      { raw: 1001, id: "saturated", means: "saturated" },
    ] as const;
    expect(toValue(field({ sentinels }), -32_768)).toBeNull();
    expect(toValue(field({ sentinels, den: 10 }), 1001)).toBe(100); // max 1000 / 10
  });
});

describe("toRaw", () => {
  it("rounds ties away from zero, on both sides", () => {
    const half = field({ num: 1, den: 1 });
    expect([0.5, 1.5, 2.5, -0.5, -1.5, -2.5].map((value) => toRaw(half, value))).toEqual([1, 2, 3, -1, -2, -3]);
    expect([0.49, -0.49].map((value) => toRaw(half, value))).toEqual([0, 0]);
  });

  it("rounds the decimal that names the double, not the double's binary expansion", () => {
    // 1.005 as a double is 1.00499999999999989…; in hundredths the decimal 100.5 is a tie and goes to 101.
    expect(toRaw(field({ den: 100 }), 1.005)).toBe(101);
    expect(toRaw(field({ den: 100 }), -1.005)).toBe(-101);
  });

  it("rounds down with floor, below zero too", () => {
    const down = field({ rounding: "floor", den: 10 });
    expect([0.19, 0.2, -0.01, -0.1, -0.11].map((value) => toRaw(down, value))).toEqual([1, 2, -1, -1, -2]);
  });

  it("undoes addend and numerator before it rounds", () => {
    // value 5 with (raw * 3 + 2) / 4: raw = (20 - 2) / 3 = 6 exactly; 5.4: 19.6 / 3 = 6.53 -> 7.
    expect(toRaw(field({ num: 3, den: 4, add: 2 }), 5)).toBe(6);
    expect(toRaw(field({ num: 3, den: 4, add: 2 }), 5.4)).toBe(7);
    expect(toRaw(field({ num: 3, den: 4, add: 2 }), 5.2)).toBe(6); // 18.8 / 3 = 6.27
  });

  it("saturates at the ends, with the sentinel where the field has one", () => {
    expect(toRaw(field({}), 1e9)).toBe(1000);
    const { sentinels: _, ...without } = field({});
    expect(toRaw(without, 1e9)).toBe(1000);
    expect(toRaw(field({}), -1e9)).toBe(-1000);
    const sentinels = [{ raw: 1001, id: "saturated", means: "saturated" }] as const;
    expect(toRaw(field({ sentinels }), 1000.5)).toBe(1001);
    expect(toRaw(field({ sentinels }), 1000.49)).toBe(1000);
    expect(toRaw(field({ sentinels }), -1001)).toBe(-1000);
  });

  it("rejects outside the range when the field rejects, and what is no number always", () => {
    expect(toRaw(field({ outOfRange: "reject" }), 1000.5)).toBeNull();
    expect(toRaw(field({ outOfRange: "reject" }), 1000.4)).toBe(1000);
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])
      expect(toRaw(field({}), value)).toBeNull();
  });

  it("reads doubles that print with an exponent", () => {
    expect(toRaw(field({ den: 1_000_000_000 }), 1e-7)).toBe(100);
    expect(toRaw(field({ den: 1_000_000_000 }), -2.5e-9)).toBe(-3);
    expect(toRaw(field({}), 1.5e21)).toBe(1000);
  });
});
