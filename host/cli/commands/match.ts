/** `plyframe match`: a tuning inductor for antenna and chip, and how far the tag then works. */
import { wattOf } from "../../../sim/index.ts";
import { type MatchResult, solveMatch } from "../radio/match-result.ts";
import { type MatchScenario, readMatchScenario } from "../radio/match-scenario.ts";
import { matchLines } from "../radio/match-text.ts";
import { say, sayJson } from "../terminal.ts";

export interface MatchOptions {
  readonly tauPlot?: string;
  readonly distancePlot?: string;
  readonly json?: boolean;
}

export async function match(file: string | undefined, options: MatchOptions): Promise<void> {
  const scenario = readMatchScenario(file);
  const result = solveMatch(scenario);
  if (options.json) sayJson(matchJson(scenario, result));
  else for (const line of matchLines(scenario, result)) say(line);
  if (options.tauPlot === undefined && options.distancePlot === undefined) return;
  const { tauPlot, distancePlot } = await import("../radio/match-plots.ts");
  const { writePicture } = await import("../picture-file.ts");
  if (options.tauPlot !== undefined) writePicture("--tau-plot", options.tauPlot, tauPlot(scenario, result));
  if (options.distancePlot !== undefined) {
    writePicture("--distance-plot", options.distancePlot, distancePlot(scenario, result));
  }
}

function matchJson(scenario: MatchScenario, result: MatchResult) {
  const { chosen, bandwidth, budgets, exposures, ranked, rule } = { ...result, ...scenario };
  return {
    title: scenario.title,
    band_mhz: [scenario.band.lowHz / 1e6, scenario.band.highHz / 1e6],
    antenna_ohm: [result.antennaOhm.re, result.antennaOhm.im],
    chip_ohm: [result.chipOhm.re, result.chipOhm.im],
    inductor_nh: nanohenry(chosen.inductor),
    candidates: ranked.map(({ inductor, worst, worstHz, best, mean }) => ({
      inductor_nh: nanohenry(inductor),
      worst_tau: worst,
      worst_mhz: worstHz / 1e6,
      best_tau: best,
      mean_tau: mean,
    })),
    bandwidth: bandwidth && {
      tau: scenario.tau,
      low_mhz: bandwidth.lowHz / 1e6,
      high_mhz: bandwidth.highHz / 1e6,
      low_open: bandwidth.lowOpen,
      high_open: bandwidth.highOpen,
    },
    yield: { tau: scenario.tau, seed: scenario.seed, confidence: 0.95, ...result.yield },
    bode_fano_tau: result.bodeFano,
    eirp_dbm: result.eirpDbm,
    eirp_limit_dbm: result.limitDbm,
    limit_source: rule.source,
    budget_mhz: result.budgetHz / 1e6,
    distance_m: scenario.distanceM,
    far_field_from_m: result.farFieldFromM,
    cross_section_dbsm: result.crossSectionDbsm,
    dry: budgetJson(budgets.dry),
    wet: budgetJson(budgets.wet),
    phantom: result.phantom.map(({ tissue, permittivity, conductivitySPerM, depthM }) => ({
      tissue,
      permittivity,
      conductivity_s_per_m: conductivitySPerM,
      depth_m: depthM,
    })),
    exposure: exposures.map(({ level, wattPerM2, distanceM, usable }) => ({
      level: level.id,
      watt_per_m2: wattPerM2,
      distance_m: distanceM,
      far_field: usable,
      source: level.source,
    })),
    assumed: scenario.assumed,
  };
}

function budgetJson(budget: MatchResult["budgets"]["dry"]) {
  return {
    excess_loss_db: budget.excessLossDb,
    chip_dbm: budget.chipDbm,
    chip_uw: wattOf(budget.chipDbm) * 1e6,
    turn_on_dbm: budget.turnOnDbm,
    forward_margin_db: budget.forwardMarginDb,
    backscatter_dbm: budget.backscatterDbm,
    backscatter_margin_db: budget.backscatterMarginDb,
    range_m: budget.rangeM,
    range_at_limit_m: budget.rangeAtLimitM,
    limited_by: budget.limitedBy,
  };
}

function nanohenry(inductor: MatchResult["chosen"]["inductor"]): number | null {
  return inductor && Number((inductor.inductanceH * 1e9).toPrecision(9));
}
