/** `plyframe turnon`: realised gain and read range from a sweep of turn-on power. */
import { EXIT } from "../exit.ts";
import { type SweepResult, solveTurnOn } from "../radio/turnon-result.ts";
import { readTurnOnScenario, type TurnOnScenario } from "../radio/turnon-scenario.ts";
import { turnOnLines } from "../radio/turnon-text.ts";
import { note, say, sayJson } from "../terminal.ts";

export interface TurnOnOptions {
  readonly plot?: string;
  readonly json?: boolean;
}

export async function turnon(file: string | undefined, options: TurnOnOptions): Promise<void> {
  const scenario = readTurnOnScenario(file);
  const { faults, rows } = scenario.table;
  for (const { line, field, says } of faults) note(`plyframe: ${scenario.sweepName}:${line}: ${field}: ${says}`);
  if (faults.length > 0) {
    note(`${faults.length + rows.length} rows: ${rows.length} used, ${faults.length} left out.`);
    process.exitCode = EXIT.rejected;
  }
  const result = solveTurnOn(scenario);
  if (options.json) for (const line of jsonLines(scenario, result)) sayJson(line);
  else for (const line of turnOnLines(scenario, result)) say(line);
  if (options.plot === undefined) return;
  const { gainPlot } = await import("../radio/turnon-plot.ts");
  const { writePicture } = await import("../picture-file.ts");
  writePicture("--plot", options.plot, gainPlot(scenario, result));
}

function jsonLines(scenario: TurnOnScenario, result: SweepResult): object[] {
  const { rule, table } = scenario;
  const rows = result.rows.map((one) => ({
    record: "row",
    line: one.row.line,
    frequency_mhz: one.row.frequencyHz / 1e6,
    reader_power_dbm: one.row.readerDbm,
    distance_m: one.row.distanceM,
    realised_gain_dbi: one.realisedGainDbi,
    realised_gain_expanded_db: one.realisedGainExpandedDb,
    model_dbi: result.modelDbi(one.row.frequencyHz),
    range_m: one.rangeM,
    range_expanded_m: one.rangeExpandedM,
    cross_section_dbsm: one.crossSectionDbsm,
    in_band: one.row.frequencyHz >= rule.lowHz && one.row.frequencyHz <= rule.highHz,
  }));
  const { comparison, shortest } = result;
  const summary = {
    record: "summary",
    rows: table.rows.length,
    left_out: table.faults.length,
    coverage_factor: 2,
    eirp_limit_dbm: result.limitDbm,
    limit_source: rule.source,
    shortest_range_m: shortest?.rangeM ?? null,
    shortest_range_mhz: shortest && shortest.row.frequencyHz / 1e6,
    near_field_rows: result.near,
    comparison: comparison && {
      mean_db: comparison.meanDb,
      standard_deviation_db: comparison.spreadDb,
      outside: comparison.outside,
      rows: comparison.rows,
    },
    assumed: scenario.assumed,
  };
  return [...rows, summary];
}
