/** Everything that `plyframe match` finds out about a scenario. */
import {
  type Bandwidth,
  backscatterDbm,
  backscatterRangeM,
  bandwidthAt,
  bodeFanoLimit,
  type Candidate,
  type Complex,
  type Condition,
  chipAt,
  chipImpedance,
  chipPowerDbm,
  crossSectionDbsm,
  dbmOf,
  type ExposureDistance,
  eirpDbm,
  eirpLimitW,
  exposureDistance,
  exposureLevels,
  farFieldFromM,
  forwardRangeM,
  parallelAt,
  rankInductors,
  type Tissue,
  type TissueAt,
  tauOf,
  tissueAt,
  tissues,
  turnOnDbm,
  wattOf,
  type Yield,
  yieldOf,
} from "../../../sim/index.ts";
import type { MatchScenario } from "./match-scenario.ts";

export interface Budget {
  readonly excessLossDb: number;
  readonly chipDbm: number;
  /** At the reader's port. */
  readonly turnOnDbm: number;
  /** Power into the chip less its turn-on power. */
  readonly forwardMarginDb: number;
  readonly backscatterDbm: number;
  /** Backscatter at the reader's port less the reader's sensitivity. */
  readonly backscatterMarginDb: number;
  readonly rangeM: number;
  readonly limitedBy: "forward" | "backscatter";
  /** With the legal limit radiated instead. */
  readonly rangeAtLimitM: number;
}

export interface MatchResult {
  readonly middleHz: number;
  readonly antennaOhm: Complex;
  readonly chipOhm: Complex;
  /** Best first; the first is the one chosen. */
  readonly ranked: readonly Candidate[];
  readonly chosen: Candidate;
  readonly bandwidth: Bandwidth | null;
  readonly yield: Yield;
  readonly bodeFano: number;
  /** Where the budget is drawn up: the frequency of the worst τ in the band. */
  readonly budgetHz: number;
  readonly eirpDbm: number;
  readonly limitDbm: number;
  readonly overConducted: boolean;
  readonly budgets: { readonly [condition in Condition]: Budget };
  readonly crossSectionDbsm: number;
  readonly farFieldFromM: number;
  readonly exposures: readonly ExposureDistance[];
  /** What a phantom behind the antenna should be like, in the middle of the band. */
  readonly phantom: readonly (TissueAt & { readonly tissue: Tissue })[];
}

export function solveMatch(scenario: MatchScenario): MatchResult {
  const { antenna, chip, band, chipTurnOnDbm, rule, links } = scenario;
  const ranked = rankInductors({ antenna, chip }, scenario.inductors, band, chipTurnOnDbm, scenario.goal);
  const chosen = ranked[0]!;
  const tau = tauOf(scenario, chosen);
  const middleHz = (band.lowHz + band.highHz) / 2;
  const limits = { lowHz: Math.max(antenna.lowHz, middleHz / 2), highHz: Math.min(antenna.highHz, middleHz * 2) };
  const { inductor, worstHz } = chosen;
  const match = { antenna, chip, inductor };
  const { tau: level, tolerances, trials, seed } = scenario;
  const eirp = eirpDbm(links.dry);
  return {
    middleHz,
    antennaOhm: antenna.impedance(middleHz),
    chipOhm: chipImpedance(chipAt(chip, chipTurnOnDbm), middleHz),
    ranked,
    chosen,
    bandwidth: bandwidthAt((hz) => tau(hz, chipTurnOnDbm), level, chosen.bestHz, limits),
    yield: yieldOf(match, band, chipTurnOnDbm, level, tolerances, trials, seed),
    bodeFano: bodeFanoLimit(parallelAt(chipAt(chip, chipTurnOnDbm), middleHz), band),
    budgetHz: worstHz,
    eirpDbm: eirp,
    limitDbm: dbmOf(eirpLimitW(rule)),
    overConducted: rule.conductedW !== undefined && links.dry.conductedDbm > dbmOf(rule.conductedW),
    budgets: { dry: budgetOf(scenario, chosen, "dry"), wet: budgetOf(scenario, chosen, "wet") },
    crossSectionDbsm: crossSectionDbsm(links.dry.tagGainDbi, links.dry.reflectionDifference, worstHz),
    farFieldFromM: farFieldFromM(worstHz, scenario.antennaSizeM),
    exposures: exposureLevels.map((one) =>
      exposureDistance(one, wattOf(eirp), scenario.duty, middleHz, scenario.antennaSizeM),
    ),
    phantom: tissues.map((tissue) => ({ tissue, ...tissueAt(tissue, middleHz) })),
  };
}

function budgetOf(scenario: MatchScenario, chosen: Candidate, condition: Condition): Budget {
  const { chipTurnOnDbm, distanceM, sensitivityDbm, rule } = scenario;
  const link = scenario.links[condition];
  const hz = chosen.worstHz;
  const tau = tauOf(scenario, chosen);
  const atTurnOn = tau(hz, chipTurnOnDbm);
  const chipDbm = chipPowerDbm(link, hz, distanceM, (dbm) => tau(hz, dbm));
  const backscatter = backscatterDbm(link, hz, distanceM);
  const forwardM = forwardRangeM(link, hz, atTurnOn, chipTurnOnDbm);
  const backM = backscatterRangeM(link, hz, sensitivityDbm);
  const spareDb = dbmOf(eirpLimitW(rule)) - eirpDbm(link);
  return {
    excessLossDb: link.excessLossDb,
    chipDbm,
    turnOnDbm: turnOnDbm(link, hz, distanceM, atTurnOn, chipTurnOnDbm),
    forwardMarginDb: chipDbm - chipTurnOnDbm,
    backscatterDbm: backscatter,
    backscatterMarginDb: backscatter - sensitivityDbm,
    rangeM: Math.min(forwardM, backM),
    limitedBy: forwardM <= backM ? "forward" : "backscatter",
    // More power at the same receiver: the forward range goes with its square root, the way back with its fourth root.
    rangeAtLimitM: Math.min(forwardM * 10 ** (spareDb / 20), backM * 10 ** (spareDb / 40)),
  };
}
