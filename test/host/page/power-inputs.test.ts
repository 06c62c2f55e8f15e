/** What is typed and slid in the view of the power, and who works it out when. */
import { describe, expect, it } from "vitest";
import { Budgeter, type Channel } from "../../../host/page/power/budgeter.ts";
import { nearestInductor, shareOf, typedNumber, valueAt } from "../../../host/page/power/control.ts";
import type { PowerFigures } from "../../../host/page/power/figures.ts";
import { type BudgetInputs, limits, type Quantity, usualInputs } from "../../../host/page/power/inputs.ts";
import { type RunVerdict, runVerdict } from "../../../host/page/power/run-verdict.ts";
import { withDefaults } from "../../../host/page/power/schema-defaults.ts";
import { ticksOf } from "../../../host/page/power/voltage-plot.ts";

describe("a typed number", () => {
  it("has a point or a comma, and a true minus sign is one", () => {
    expect(["0.5", "0,5", " 27 ", "−3", ".5", "100."].map(typedNumber)).toEqual([0.5, 0.5, 27, -3, 0.5, 100]);
  });

  it("is nothing else", () => {
    expect(["", "1e3", "0x10", "1.2.3", "1,2,3", "Infinity", "12 m"].map(typedNumber)).toEqual(new Array(7).fill(null));
  });
});

describe("a slider", () => {
  const quantities = Object.keys(limits) as Quantity[];

  it.each(quantities)("of %s goes from limit to limit, ever upwards", (quantity) => {
    const { low, high } = limits[quantity];
    expect([valueAt(quantity, 0), valueAt(quantity, 1)]).toEqual([low, high]);
    const values = Array.from({ length: 201 }, (_, i) => valueAt(quantity, i / 200));
    expect(values.every((value, i) => i === 0 || value >= values[i - 1]!)).toBe(true);
    expect(new Set(values).size).toBeGreaterThan(30);
  });

  it.each(quantities)("of %s stands where its value is", (quantity) => {
    const { low, high } = limits[quantity];
    expect([shareOf(quantity, low), shareOf(quantity, high)]).toEqual([0, 1]);
    for (const share of [0.1, 0.37, 0.5, 0.82]) {
      const value = valueAt(quantity, share);
      expect(valueAt(quantity, shareOf(quantity, value))).toBe(value);
    }
  });

  // Halfway by ratio lies the geometric mean: sqrt(0.05 * 5) = 0.5, sqrt(10 * 10000) = 316.
  it("goes by ratios where the limits are far apart", () => {
    expect([valueAt("distanceM", 0.5), valueAt("capacitanceUf", 0.5), valueAt("conductedDbm", 0.5)]).toEqual([
      0.5, 320, 16.5,
    ]);
  });

  // IEC 60063, E24, from memory: 6.8, 7.5, 8.2; and 33 next to 36.
  it("has preferred values only of an inductor, the nearest by ratio to what is typed", () => {
    expect([7.5, 7.1, 7.2, 34, 35, 1, 120].map(nearestInductor)).toEqual([7.5, 6.8, 7.5, 33, 36, 1, 120]);
  });
});

describe("the figures", () => {
  /** A worker that answers when it is told to. */
  function scripted() {
    const asked: BudgetInputs[] = [];
    const told: [number, boolean][] = [];
    const channel: Channel = { postMessage: ({ inputs }) => void asked.push(inputs), onmessage: null };
    const budgeter = new Budgeter(channel, ({ number }, latest) => told.push([number, latest]));
    const answer = () => channel.onmessage!({ data: { number: asked.length, figures: null, sentence: null } });
    return { budgeter, asked, told, answer };
  }
  const at = (distanceM: number): BudgetInputs => ({ ...usualInputs, distanceM });

  it("are asked for one at a time, and of what came meanwhile only the last", () => {
    const { budgeter, asked, told, answer } = scripted();
    for (const distanceM of [1, 2, 3, 4]) budgeter.ask(at(distanceM));
    expect(asked.map(({ distanceM }) => distanceM)).toEqual([1]);
    answer();
    expect(asked.map(({ distanceM }) => distanceM)).toEqual([1, 4]);
    answer();
    expect(asked).toHaveLength(2);
    expect(told.map(([, latest]) => latest)).toEqual([false, true]);
    budgeter.ask(at(5));
    expect(asked.at(-1)!.distanceM).toBe(5);
  });
});

describe("whether it runs", () => {
  const figures = (changes: Partial<PowerFigures>) =>
    ({ firstFrame: { value: 1 }, rate: { value: 10 }, askedPerS: 10, lossesPerMinute: 0, ...changes }) as PowerFigures;
  const cause = { code: "no-capacitor" } as const;
  const never = { never: "", cause };

  it.each<[RunVerdict, Partial<PowerFigures>]>([
    ["runs", {}],
    ["runs", { rate: { value: 9.96 } }],
    ["falters", { rate: { value: 9.9 } }],
    ["falters", { rate: never }],
    ["falters", { lossesPerMinute: 1 }],
    ["never", { firstFrame: never }],
    ["never", { firstFrame: never, rate: { value: 100 } }],
  ])("%s: %o", (verdict, changes) => {
    expect(runVerdict(figures(changes))).toBe(verdict);
  });
});

describe("round times on an axis", () => {
  const texts = (from: number, to: number, most: number) =>
    ticksOf(from, to, most).map(({ s, digits }) => s.toFixed(digits));
  it("lie inside, at steps of 1, 2 or 5", () => {
    expect(texts(0, 10, 5)).toEqual(["0", "2", "4", "6", "8", "10"]);
    expect(texts(6.07, 6.55, 5)).toEqual(["6.1", "6.2", "6.3", "6.4", "6.5"]);
    expect(texts(1.19, 1.24, 3)).toEqual(["1.20", "1.22", "1.24"]);
  });
});

describe("the defaults of a schema", () => {
  it("are filled in at all depths, beside what is given", () => {
    const schema = {
      properties: {
        a: { default: {}, properties: { b: { default: 1 }, c: { default: 2 } } },
        d: { default: [1] },
        e: {},
      },
    };
    expect(withDefaults(schema, { a: { b: 5 } })).toEqual({ a: { b: 5, c: 2 }, d: [1] });
    expect(withDefaults(schema, {})).toEqual({ a: { b: 1, c: 2 }, d: [1] });
  });
});
