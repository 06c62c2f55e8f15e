/** What a turn-on sweep says, beside what the model says. */
import {
  type Comparison,
  compareTurnOn,
  dbmOf,
  dbOf,
  eirpLimitW,
  evaluateTurnOn,
  farFieldFromM,
  type TurnOnResult,
  tauOf,
} from "../../../sim/index.ts";
import { solveMatch } from "./match-result.ts";
import type { TurnOnScenario } from "./turnon-scenario.ts";

export interface SweepResult {
  readonly limitDbm: number;
  readonly rows: readonly TurnOnResult[];
  /** The model's realised gain in dBi; null where its antenna is not known. */
  modelDbi(frequencyHz: number): number | null;
  readonly inductorNh: number | null;
  readonly comparison: Comparison | null;
  /** Of the rows inside the region's band, the one with the shortest read range; null when there is none. */
  readonly shortest: TurnOnResult | null;
  /** Rows measured nearer than the far-field formula holds. */
  readonly near: number;
}

export function solveTurnOn({ table, setup, rule, model, antennaSizeM }: TurnOnScenario): SweepResult {
  const limitDbm = dbmOf(eirpLimitW(rule));
  const rows = table.rows.map((row) => evaluateTurnOn(row, setup, limitDbm));
  const { chosen } = solveMatch(model);
  const tau = tauOf(model, chosen);
  const modelDbi = (hz: number) =>
    hz < model.antenna.lowHz || hz > model.antenna.highHz
      ? null
      : model.links.dry.tagGainDbi + dbOf(tau(hz, model.chipTurnOnDbm));
  const inside = rows.filter(({ row }) => row.frequencyHz >= rule.lowHz && row.frequencyHz <= rule.highHz);
  return {
    limitDbm,
    rows,
    modelDbi,
    inductorNh: chosen.inductor && chosen.inductor.inductanceH * 1e9,
    comparison: compareTurnOn(rows, modelDbi),
    shortest: inside.length ? inside.reduce((least, one) => (one.rangeM < least.rangeM ? one : least)) : null,
    near: rows.filter(({ row }) => row.distanceM < farFieldFromM(row.frequencyHz, antennaSizeM)).length,
  };
}
