/** The figures of the page are the command's for the same input. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { powerFigures } from "../../../host/page/power/figures.ts";
import { type BudgetInputs, budgetContentOf, matchContentOf, usualInputs } from "../../../host/page/power/inputs.ts";
import { withDefaults } from "../../../host/page/power/schema-defaults.ts";
import { type BudgetScenario, type MatchContent, scenarioOf } from "../../../sim/index.ts";
import matchSchema from "../../../vectors/schema/match.schema.json";
import { plyframe, testFolder } from "../../support/plyframe.ts";

interface Told {
  readonly answers: readonly (
    | { readonly id: string; readonly value: number }
    | { readonly value: null; readonly never: string }
  )[];
  readonly next_e6_uf: number | null;
  readonly life: { readonly frames: number; readonly samples_given_up: number };
  readonly assumed: readonly { readonly path: string; readonly value: unknown }[];
}

async function command(inputs: BudgetInputs): Promise<Told> {
  const folder = testFolder();
  const write = (name: string, content: object) => {
    const file = join(folder, name);
    writeFileSync(file, JSON.stringify(content));
    return file;
  };
  const match = write("match.json", matchContentOf(inputs));
  const budget = write("budget.json", budgetContentOf(inputs));
  const { status, stdout, stderr } = await plyframe([
    "budget",
    "--json",
    "--match",
    match,
    "--dressing",
    inputs.dressing,
    budget,
  ]);
  expect([status, stderr]).toEqual([0, ""]);
  return JSON.parse(stdout) as Told;
}

describe("the page's budget", () => {
  it.each<[string, Partial<BudgetInputs>]>([
    ["as it opens", {}],
    [
      "with everything typed, through a wet dressing",
      { distanceM: 0.31, conductedDbm: 28.5, inductorNh: 10, capacitanceUf: 33, periodMs: 450, dressing: "wet" },
    ],
    ["where it never runs", { distanceM: 2.5 }],
  ])(
    "%s has the command's figures",
    async (_, changes) => {
      const inputs = { ...usualInputs, ...changes };
      const told = await command(inputs);
      const figures = powerFigures(inputs);
      const shown = [
        figures.firstFrame,
        figures.rate,
        "value" in figures.leastCapacitor ? { value: figures.leastCapacitor.value * 1e6 } : figures.leastCapacitor,
        { value: figures.lossesPerMinute },
      ].map((answer) => ("value" in answer ? answer.value : answer.never));
      expect(shown).toEqual(told.answers.map((answer) => (answer.value === null ? answer.never : answer.value)));
      expect(figures.levelDbm).toBe(told.assumed.find(({ path }) => path === "field.power_dbm")!.value);
      expect([figures.nextE6Uf, figures.frames, figures.samplesGivenUp]).toEqual([
        told.next_e6_uf,
        told.life.frames,
        told.life.samples_given_up,
      ]);
    },
    240_000,
  );

  it("opens with what the commands take when nothing is said", () => {
    const nothing = { ...withDefaults(matchSchema, {}) } as unknown as MatchContent;
    const { values } = scenarioOf({}) as BudgetScenario;
    expect({ ...usualInputs, inductorNh: null, dressing: "dry" }).toEqual({
      distanceM: nothing.link.distance_m,
      conductedDbm: nothing.link.conducted_dbm,
      inductorNh: null,
      capacitanceUf: values["store.capacitance_uf"],
      periodMs: values["firmware.period_ms"],
      dressing: "dry",
    });
  });

  it("draws the store from the field's coming, and the firmware at work from a little before its first start", () => {
    const { drawn } = powerFigures({ ...usualInputs, distanceM: 0.3 });
    const started = drawn.start.moments.find(({ activity }) => activity !== "off")!.fromS;
    expect(drawn.start.fromS).toBe(0);
    // What flows in already lifts it a little across the store's own resistance.
    expect(drawn.start.moments[0]!.fromV).toBeLessThan(0.01);
    expect(drawn.work.fromS).toBeLessThan(started);
    // Four periods of 100 ms after the start.
    expect(drawn.work.toS).toBeCloseTo(started + 0.4, 9);
    for (const { fromS: from, toS: to, moments } of Object.values(drawn)) {
      expect([moments[0]!.fromS, moments.at(-1)!.toS]).toEqual([from, to]);
      expect(moments.slice(1).map(({ fromS }) => fromS)).toEqual(moments.slice(0, -1).map(({ toS }) => toS));
    }
    expect(drawn.work.moments.some(({ activity }) => activity === "commit_frame")).toBe(true);
  });

  it("says when the link is nearer than its formulas hold, and when no inductor at all would match better", () => {
    expect([powerFigures({ ...usualInputs, distanceM: 0.1 }).near, powerFigures(usualInputs).near]).toEqual([
      true,
      false,
    ]);
    const far = powerFigures({ ...usualInputs, inductorNh: 120 });
    expect([far.betterWithout, far.inductorNh, far.bestNh]).toEqual([true, 120, powerFigures(usualInputs).inductorNh]);
    expect(powerFigures({ ...usualInputs, inductorNh: 10 }).betterWithout).toBe(false);
  });
});
