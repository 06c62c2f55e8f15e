/** What `plyframe budget` prints. */
import { type Answer, type Bar, type BudgetScenario, type Question, wattOfDbm } from "../../../sim/index.ts";
import type { Assumption } from "../scenario-file.ts";
import { columns, fold, paint } from "../terminal.ts";
import type { BudgetResult } from "./budget-result.ts";

/** Sentences are folded at this width. */
const WIDTH = 118;
/** Bars shown of each tornado. */
const SHOWN = 4;

export function budgetLines(
  scenario: BudgetScenario,
  result: BudgetResult,
  assumed: readonly Assumption[],
): readonly string[] {
  return [
    paint.bold(scenario.title),
    ...columns(headRows(scenario, result)),
    "",
    ...result.questions.flatMap((question, i) => answerLines(question, result.answers[i]!, result)),
    "",
    paint.bold(
      `The first ${scenario.values["answers.life_s"]} s, from ${scenario.values["store.start_voltage_v"]} V on`,
    ),
    ...columns(lifeRows(result)),
    "",
    paint.bold("Sustainable sampling rate over power, bursts left out; distance in free space"),
    ...columns(rateRows(result), [0, 1, 2, 3]),
    "",
    paint.bold("What moves the answers most: parameters one at a time, from the lower to the upper value"),
    ...columns(tornadoRows(result), [2, 3, 4, 5]),
    "",
    ...assumedLines(assumed),
  ];
}

function headRows({ values }: BudgetScenario, result: BudgetResult): string[][] {
  const dbm = values["field.power_dbm"]!;
  const power = `${dbm} dBm, ${figure(wattOfDbm(dbm) * 1e6)} uW at the chip, as in ${figure(result.distanceM)} m`;
  return [
    ["field", power],
    ["store", `${values["store.capacitance_uf"]} uF nominal, gives ${figure(result.storeUc)} uC to the load`],
    [
      "task",
      `${figure(result.firstFrameUc)} uC up to the first frame, ${figure(result.sampleUc)} uC a sample after it`,
    ],
  ];
}

function answerLines({ text, unit, scale, id }: Question, answer: Answer, { nextE6Uf }: BudgetResult): string[] {
  const label = `${text}:`.padEnd(31);
  if ("never" in answer) {
    return fold(`${label}${paint.red("never")}: ${answer.never}`, WIDTH).map((line, i) =>
      i === 0 ? line : `  ${line}`,
    );
  }
  const more = id === "least_capacitor_uf" ? `, the field gone at the start; next of E6: ${nextE6Uf} uF` : "";
  return [`${label}${figure(answer.value * scale)} ${unit}${more}`];
}

function lifeRows({ life }: BudgetResult): string[][] {
  const lost = Object.entries(life.lostIn).map(([activity, count]) => `${activity} ${count}`);
  return [
    ["frames", String(life.frames)],
    ["samples given up for want of supply", String(life.skipped)],
    ["starts", String(life.starts)],
    ["losses of supply", `${life.losses}${lost.length > 0 ? ` (in ${lost.join(", ")})` : ""}`],
    ["voltage at the end", `${life.endV.toFixed(3)} V`],
  ];
}

function rateRows({ rates }: BudgetResult): string[][] {
  const shown = rates.filter((_, i) => i % 2 === 0);
  return [
    ["dBm", "uW", "m", "rate in 1/s"],
    ...shown.map(({ powerDbm, distanceM, rate }) => [
      powerDbm.toFixed(1),
      figure(wattOfDbm(powerDbm) * 1e6),
      distanceM.toFixed(2),
      "value" in rate ? figure(rate.value) : "none",
    ]),
  ];
}

function tornadoRows({ questions, tornados }: BudgetResult): string[][] {
  const rows = questions.flatMap((question, i) =>
    tornados[i]!.slice(0, SHOWN).map((bar, at) => [at === 0 ? question.text : "", ...barCells(bar, question)]),
  );
  return [["", "parameter", "from", "to", "answer from", "to", ""], ...rows];
}

function barCells({ path, low, high, atLow, atHigh }: Bar, { scale, unit }: Question): string[] {
  const shown = (value: number | null) => (value === null ? "none" : figure(value * scale));
  return [path, figure(low), figure(high), shown(atLow), shown(atHigh), unit];
}

function assumedLines(assumed: readonly Assumption[]): string[] {
  if (assumed.length === 0) return [];
  const standings = [...new Set(assumed.map(({ standing }) => standing ?? "a choice"))];
  const lines = standings.flatMap((standing) => {
    const of = assumed.filter((entry) => (entry.standing ?? "a choice") === standing);
    return fold(`  ${standing}: ${of.map(named).join(", ")}`, WIDTH).map((line, i) => (i === 0 ? line : `    ${line}`));
  });
  return [paint.bold("Assumed, because the scenario does not say; replace what you know better"), ...lines];
}

function named({ path, value }: Assumption): string {
  return typeof value === "object" ? path : `${path} ${value}`;
}

/** Three significant digits, no more than a class value deserves. */
export function figure(value: number): string {
  return String(Number(value.toPrecision(3)));
}
