/** What `plyframe turnon` prints. */
import type { TurnOnResult } from "../../../sim/index.ts";
import { columns, fold, paint } from "../terminal.ts";
import { assumedLines, WIDTH, warning } from "./match-text.ts";
import type { SweepResult } from "./turnon-result.ts";
import type { TurnOnScenario } from "./turnon-scenario.ts";

export function turnOnLines(scenario: TurnOnScenario, result: SweepResult): string[] {
  const head = ["MHz", "reader", "at", "realised gain", "model", "less", "range", "sigma"];
  const units = ["", "dBm", "m", "dBi ± U", "dBi", "dB", "m ± U", "dBsm"];
  const rows = result.rows.map((one) => rowOf(one, scenario, result));
  return [
    paint.bold(`${scenario.title}, from ${scenario.sweepName}`),
    ...columns([head, units, ...rows], [0, 1, 2, 3, 4, 5, 6, 7]),
    ...summaryLines(scenario, result),
    "",
    ...assumedLines(scenario.assumed),
  ];
}

function rowOf(one: TurnOnResult, { rule }: TurnOnScenario, { modelDbi }: SweepResult): string[] {
  const { row, realisedGainDbi, realisedGainExpandedDb, rangeM, rangeExpandedM, crossSectionDbsm } = one;
  const model = modelDbi(row.frequencyHz);
  const inside = row.frequencyHz >= rule.lowHz && row.frequencyHz <= rule.highHz;
  return [
    (row.frequencyHz / 1e6).toFixed(1),
    row.readerDbm.toFixed(1),
    row.distanceM.toFixed(2),
    `${realisedGainDbi.toFixed(1)} ± ${realisedGainExpandedDb.toFixed(1)}`,
    model === null ? "" : model.toFixed(1),
    model === null ? "" : (realisedGainDbi - model).toFixed(1),
    `${rangeM.toFixed(2)} ± ${rangeExpandedM.toFixed(2)}`,
    crossSectionDbsm === null ? "" : crossSectionDbsm.toFixed(1),
    inside ? "in the band" : "",
  ];
}

function summaryLines(scenario: TurnOnScenario, result: SweepResult): string[] {
  const { rule, table, model } = scenario;
  const { comparison, shortest, limitDbm, near, inductorNh } = result;
  const limit = `${limitDbm.toFixed(2)} dBm EIRP (${rule.limitW} W ${rule.against.toUpperCase()}, ${rule.title}; ${rule.source})`;
  const lines = [
    `Range: to where ${limit} still turns the tag on, in the setup's polarisation and through what lay between; the chip's` +
      " turn-on power does not enter it. U is expanded (k = 2), sigma the differential radar cross-section," +
      " |rho1 - rho2|^2/4 definition. Realised gain is gain times tau.",
  ];
  if (shortest) {
    const { row, rangeM, rangeExpandedM } = shortest;
    lines.push(
      `Shortest in the band: ${rangeM.toFixed(2)} ± ${rangeExpandedM.toFixed(2)} m at ${(row.frequencyHz / 1e6).toFixed(1)} MHz.`,
    );
  } else lines.push(`No row lies inside ${rule.title}, ${rule.lowHz / 1e6} to ${rule.highHz / 1e6} MHz.`);
  if (comparison) {
    const { meanDb, spreadDb, outside, rows } = comparison;
    const tuning = inductorNh === null ? "no inductor" : `${Number(inductorNh.toPrecision(6))} nH`;
    lines.push(
      `Model: ${model.title}, ${tuning}. Measured less modelled: ${meanDb.toFixed(2)} dB in the mean, ${spreadDb.toFixed(2)} dB` +
        ` standard deviation; ${outside} of ${rows} rows differ by more than their U.`,
    );
  } else lines.push("Model: its antenna is not known at any frequency of the sweep.");
  if (near > 0) {
    const all = table.rows.length;
    lines.push(
      warning(`${near} of ${all} rows were measured nearer than the far field, where this sum does not hold.`),
    );
  }
  return lines.flatMap((sentence) => fold(sentence, WIDTH));
}
