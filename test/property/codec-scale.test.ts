import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CompiledField, compile } from "../../protocol/model/layout.ts";
import { toRaw, toValue } from "../../protocol/model/scale.ts";
import { specification } from "../../protocol/spec/plyframe.ts";

const { records } = compile(specification);

/** Every number of the specification, one of each array. */
const numbers = records
  .flatMap(({ fields }) => fields)
  .filter(({ type, index = 0 }) => (type === "unsigned" || type === "signed") && index === 0);

const EXHAUSTIVE = 70_000;

function rawsOf(field: CompiledField): fc.Arbitrary<number> {
  return fc.oneof(fc.integer({ min: field.min!, max: field.max! }), fc.constantFrom(field.min!, field.max!));
}

describe.each(numbers.map((field) => ({ path: field.path, field })))("$path", ({ field }) => {
  const [min, max] = [field.min!, field.max!];

  it("comes back from its physical value", () => {
    if (max - min <= EXHAUSTIVE && field.unit !== "1") {
      for (let raw = min; raw <= max; raw++) if (toRaw(field, toValue(field, raw)!) !== raw) expect.fail(`raw ${raw}`);
    } else {
      fc.assert(fc.property(rawsOf(field), (raw) => toRaw(field, toValue(field, raw)!) === raw));
    }
  });

  it("is never further than its rounding allows from the value it was made from", () => {
    const step = field.num! / field.den!;
    fc.assert(
      fc.property(rawsOf(field), fc.double({ min: -1, max: 1, noNaN: true }), (raw, part) => {
        const value = toValue(field, raw)! + part * step;
        const back = toRaw(field, value);
        if (back === null || back < min || back > max) return;
        const inside = value >= toValue(field, min)! && value <= toValue(field, max)!;
        if (!inside) return;
        // The comparison itself is in doubles: one unit in the last place of the raw integer is forgiven.
        const slack = Math.abs(raw) * 4e-16 + 1e-9;
        const distance = (value * field.den! - field.add!) / field.num! - back;
        if (field.rounding === "floor") {
          expect(distance).toBeGreaterThanOrEqual(-slack);
          expect(distance).toBeLessThan(1 + slack);
        } else {
          expect(Math.abs(distance)).toBeLessThanOrEqual(0.5 + slack);
        }
      }),
    );
  });

  it("does outside its range what the specification says", () => {
    const step = field.num! / field.den!;
    const above = toRaw(field, toValue(field, max)! + 2 * step);
    const below = toRaw(field, toValue(field, min)! - 2 * step);
    const saturated = field.sentinels!.find(({ means }) => means === "saturated");
    if (field.outOfRange === "reject") expect([below, above]).toEqual([null, null]);
    else expect([below, above]).toEqual([min, saturated ? saturated.raw : max]);
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      expect(toRaw(field, value)).toBeNull();
    }
  });

  it("has no value for what stands for none, and its highest for one that is at least that", () => {
    for (const { raw, means } of field.sentinels!) {
      expect(toValue(field, raw)).toBe(means === "absent" ? null : toValue(field, max));
    }
  });
});

describe("rounding, worked by hand", () => {
  const fieldAt = (path: string) => numbers.find((field) => field.path === path)!;

  it.each([
    // Halves go away from zero: 0.005 °C is half a step.
    ["frame.temperature", 0.005, 1],
    ["frame.temperature", -0.005, -1],
    ["frame.temperature", 0.0049, 0],
    // 1.005 and 1.115 as doubles lie just below and above; the decimal that names them is what counts.
    ["frame.temperature", 1.005, 101],
    ["frame.temperature", 1.115, 112],
    // Time since the cold start is rounded down: it is at least that long.
    ["frame.uptime", 0.19, 1],
    ["frame.uptime", 0.2, 2],
    ["frame.uptime", 1e9, 1_048_575],
    ["frame.supply", 1e-7, 0],
    ["frame.supply", 1e21, 4094],
    ["frame.pressure", 101_325, 12_969_600],
    ["frame.pressure", 1, 3_328_000],
  ] as const)("%s of %d is %i", (path, value, raw) => {
    expect(toRaw(fieldAt(path), value)).toBe(raw);
  });

  it("floor goes down below zero too, where no field of the tag goes yet", () => {
    const field = { ...fieldAt("frame.uptime"), signed: true, min: -100 };
    expect([0.09, 0, -0.01, -0.1, -0.11].map((value) => toRaw(field, value))).toEqual([0, 0, -1, -1, -2]);
  });
});
