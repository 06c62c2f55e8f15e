/** What the radio model takes, made of a match scenario's content and its antenna, which may come from a file. */
import type { Problem } from "../power/scenario.ts";
import type { Antenna } from "./antenna.ts";
import { type Chip, type ChipPoint, capacitanceOf } from "./chip.ts";
import { type Inductor, parallelOf } from "./inductor.ts";
import { chipPowerDbm, type Link } from "./link.ts";
import { type Band, type Candidate, matchAt } from "./match.ts";
import type { Layer, MatchContent } from "./match-content.ts";
import { preferredValues, type Series } from "./preferred-values.ts";
import { type Rule, ruleOf, rules } from "./regulation.ts";
import type { Tolerances } from "./yield.ts";

export type Condition = "dry" | "wet";

export interface MatchScenario {
  readonly title: string;
  readonly antenna: Antenna;
  readonly antennaSource: string;
  readonly chip: Chip;
  readonly chipTurnOnDbm: number;
  readonly band: Band;
  readonly bandName: string;
  readonly goal: "worst" | "mean";
  readonly values: Series;
  readonly inductors: readonly Inductor[];
  readonly tau: number;
  readonly tolerances: Tolerances;
  readonly trials: number;
  readonly seed: number;
  readonly rule: Rule;
  /** The same link through a dry and through a wet dressing. */
  readonly links: { readonly [condition in Condition]: Link };
  readonly sensitivityDbm: number;
  readonly antennaSizeM: number;
  readonly duty: number;
  readonly distanceM: number;
}

/** The scenario of a content that its schema has judged and filled in, or the first thing in it that cannot be. */
export function matchScenarioOf(
  content: MatchContent,
  antenna: Antenna,
  antennaSource: string,
): MatchScenario | Problem {
  const named = bandOf(content);
  if ("sentence" in named) return named;
  const { band, bandName } = named;
  if (band.lowHz < antenna.lowHz || band.highHz > antenna.highHz) {
    const known = `${antenna.lowHz / 1e6} to ${antenna.highHz / 1e6} MHz`;
    return problem("band", `${bandName} is not inside ${known}, for which ${antennaSource} gives the antenna`);
  }
  const { inductor, link, tolerances } = content;
  if (inductor.lowest_nh > inductor.highest_nh) {
    return problem("inductor.lowest_nh", `${inductor.lowest_nh} is above highest_nh ${inductor.highest_nh}`);
  }
  const chip = chipOf(content);
  if ("sentence" in chip) return chip;
  const rule = regionOf(content, band);
  if ("sentence" in rule) return rule;
  const { inductance_nh, frequency_mhz } = inductor.self_resonance;
  const parallelF = parallelOf(inductance_nh * 1e-9, frequency_mhz * 1e6);
  const share = (percent: number) => percent / 100;
  return {
    title: content.title ?? "Antenna match and link of a tag",
    antenna,
    antennaSource,
    chip,
    chipTurnOnDbm: content.chip.turn_on_dbm,
    band,
    bandName,
    goal: inductor.goal,
    values: inductor.values,
    inductors: preferredValues(inductor.values, inductor.lowest_nh, inductor.highest_nh).map((nh) => ({
      inductanceH: Number(`${nh}e-9`),
      q: inductor.q,
      parallelF,
    })),
    tau: content.tau,
    tolerances: {
      inductance: share(inductor.tolerance_percent),
      chipResistance: share(tolerances.chip_resistance_percent),
      chipCapacitance: share(tolerances.chip_capacitance_percent),
      antennaResistance: share(tolerances.antenna_resistance_percent),
      antennaReactance: share(tolerances.antenna_reactance_percent),
    },
    trials: tolerances.trials,
    seed: tolerances.seed,
    rule,
    links: { dry: linkOf(content, "dry"), wet: linkOf(content, "wet") },
    sensitivityDbm: link.sensitivity_dbm,
    antennaSizeM: link.antenna_size_m,
    duty: link.duty,
    distanceM: link.distance_m,
  };
}

/** τ of the scenario with one of its inductors at a frequency and power. */
export function tauOf(scenario: MatchScenario, { inductor }: Pick<Candidate, "inductor">) {
  const match = { antenna: scenario.antenna, chip: scenario.chip, inductor };
  return (frequencyHz: number, chipDbm: number) => matchAt(match, frequencyHz, chipDbm);
}

/** Level at the chip with an inductor, where τ is worst in the band; to a hundredth of a decibel. */
export function linkedLevelDbm(
  scenario: MatchScenario,
  chosen: Candidate,
  condition: Condition,
  distanceM: number,
): number {
  const tau = tauOf(scenario, chosen);
  const hz = chosen.worstHz;
  return Number(chipPowerDbm(scenario.links[condition], hz, distanceM, (dbm) => tau(hz, dbm)).toFixed(2));
}

function problem(path: string, sentence: string): Problem {
  return { path, sentence };
}

function chipOf({ chip }: MatchContent): Chip | Problem {
  const entries = chip.impedance;
  const points: ChipPoint[] = [];
  for (const [i, entry] of entries.entries()) {
    const path = `chip.impedance[${i}]`;
    const { parallel_resistance_ohm, parallel_capacitance_pf, series_resistance_ohm, series_reactance_ohm } = entry;
    if ((parallel_resistance_ohm === undefined) === (series_resistance_ohm === undefined)) {
      return problem(path, "give either the parallel or the series resistance, with its capacitance or reactance");
    }
    if (entry.power_dbm === undefined && entries.length > 1) {
      return problem(path, "power_dbm is missing: there are several entries");
    }
    const powerDbm = entry.power_dbm ?? chip.turn_on_dbm;
    if (i > 0 && powerDbm <= entries[i - 1]!.power_dbm!) {
      return problem(`${path}.power_dbm`, `${powerDbm} does not rise above the one before`);
    }
    if (i > 0 && (entries[0]!.parallel_resistance_ohm === undefined) !== (parallel_resistance_ohm === undefined)) {
      return problem(path, "all entries must be parallel, or all series");
    }
    if (parallel_resistance_ohm !== undefined) {
      const capacitanceF = parallel_capacitance_pf! * 1e-12;
      points.push({ form: "parallel", powerDbm, resistanceOhm: parallel_resistance_ohm, capacitanceF });
    } else {
      const capacitanceF = capacitanceOf(series_reactance_ohm!, entry.frequency_mhz! * 1e6);
      points.push({ form: "series", powerDbm, resistanceOhm: series_resistance_ohm!, capacitanceF });
    }
  }
  return points;
}

function bandOf(content: MatchContent): { band: Band; bandName: string } | Problem {
  const { name, low_mhz, high_mhz } = content.band ?? { name: "eu_lower" };
  if ((name === undefined) === (low_mhz === undefined)) {
    return problem("band", "give either name, or low_mhz and high_mhz");
  }
  if (name !== undefined) {
    const { lowHz, highHz, title } = ruleOf(name);
    return { band: { lowHz, highHz }, bandName: `${title}, ${lowHz / 1e6} to ${highHz / 1e6} MHz` };
  }
  if (low_mhz! >= high_mhz!) return problem("band.low_mhz", `${low_mhz} is not below high_mhz ${high_mhz}`);
  return { band: { lowHz: low_mhz! * 1e6, highHz: high_mhz! * 1e6 }, bandName: `${low_mhz} to ${high_mhz} MHz` };
}

function regionOf({ link, band: named }: MatchContent, band: Band): Rule | Problem {
  const region = link.region ?? named?.name;
  if (region !== undefined) {
    const rule = ruleOf(region);
    const middle = (band.lowHz + band.highHz) / 2;
    if (middle >= rule.lowHz && middle <= rule.highHz) return rule;
    return problem(
      "link.region",
      `${region} is ${rule.lowHz / 1e6} to ${rule.highHz / 1e6} MHz, which the band is not`,
    );
  }
  const found = rules.find(({ lowHz, highHz }) => lowHz <= band.lowHz && band.highHz <= highHz);
  if (found) return found;
  return problem(
    "link.region",
    `the band lies in none of ${rules.map(({ region: id }) => id).join(", ")}: say whose limit holds`,
  );
}

function linkOf({ link }: MatchContent, condition: Condition): Link {
  const loss = (layer: Layer) => layer.layers * (condition === "dry" ? layer.dry_loss_db : layer.wet_loss_db);
  return {
    conductedDbm: link.conducted_dbm,
    cableLossDb: link.cable_loss_db,
    antennaGainDbi: link.antenna_gain_dbi,
    polarisationLossDb: link.polarisation_loss_db,
    excessLossDb: link.layers.reduce((sum, layer) => sum + loss(layer), link.body_loss_db),
    tagGainDbi: link.tag_gain_dbi,
    reflectionDifference: link.reflection_difference,
  };
}
