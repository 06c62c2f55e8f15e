/** A scenario of `plyframe match` made into what the radio model takes. */
import { readFileSync } from "node:fs";
import {
  type Antenna,
  antennaOfCircuit,
  antennaOfTable,
  antennaOfTouchstone,
  type Band,
  type Chip,
  type ChipPoint,
  type Circuit,
  capacitanceOf,
  type Inductor,
  isTextFault,
  type Link,
  parallelOf,
  parseTouchstone,
  preferredValues,
  type Rule,
  ruleOf,
  rules,
  type Series,
  type Tolerances,
} from "../../../sim/index.ts";
import { CommandError, EXIT, systemSentence } from "../exit.ts";
import { packageFile } from "../package-file.ts";
import { type Assumption, readScenario, type ScenarioFile } from "../scenario-file.ts";
import type { CircuitContent, Layer, MatchContent } from "./match-content.ts";

export type Condition = "dry" | "wet";

export interface MatchScenario {
  readonly title: string;
  readonly assumed: readonly Assumption[];
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

const EXAMPLE_ANTENNA = "vectors/examples/tag-antenna.s1p";

/** Reads a scenario of `plyframe match`; throws a CommandError with place for everything wrong in it. */
export function readMatchScenario(file: string | undefined): MatchScenario {
  const scenario = readScenario<MatchContent>(file, "match.schema.json");
  const { content } = scenario;
  const { antenna, source } = antennaOf(scenario);
  const { band, bandName } = bandOf(scenario);
  if (band.lowHz < antenna.lowHz || band.highHz > antenna.highHz) {
    const known = `${antenna.lowHz / 1e6} to ${antenna.highHz / 1e6} MHz`;
    throw scenario.refusal("band", `${bandName} is not inside ${known}, for which ${source} gives the antenna`);
  }
  const { inductor, link, tolerances } = content;
  if (inductor.lowest_nh > inductor.highest_nh) {
    throw scenario.refusal("inductor.lowest_nh", `${inductor.lowest_nh} is above highest_nh ${inductor.highest_nh}`);
  }
  const { inductance_nh, frequency_mhz } = inductor.self_resonance;
  const parallelF = parallelOf(inductance_nh * 1e-9, frequency_mhz * 1e6);
  const share = (percent: number) => percent / 100;
  return {
    title: content.title ?? "Antenna match and link of a tag",
    assumed: [...assumedFiles(content), ...scenario.assumed],
    antenna,
    antennaSource: source,
    chip: chipOf(scenario),
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
    rule: regionOf(scenario, band),
    links: { dry: linkOf(content, "dry"), wet: linkOf(content, "wet") },
    sensitivityDbm: link.sensitivity_dbm,
    antennaSizeM: link.antenna_size_m,
    duty: link.duty,
    distanceM: link.distance_m,
  };
}

function assumedFiles({ antenna, band }: MatchContent): Assumption[] {
  const assumed: Assumption[] = [];
  if (!antenna) assumed.push({ path: "antenna.touchstone", value: EXAMPLE_ANTENNA, standing: "invented" });
  if (!band) assumed.push({ path: "band.name", value: "eu_lower", standing: null });
  return assumed;
}

function antennaOf({ content, fileOf, refusal }: ScenarioFile<MatchContent>): { antenna: Antenna; source: string } {
  const { table, circuit, touchstone } = content.antenna ?? {};
  if (circuit) return { antenna: antennaOfCircuit(circuitOf(circuit)), source: "the circuit" };
  if (table) {
    const rows = table.map((row, i) => {
      if (i > 0 && row.frequency_mhz <= table[i - 1]!.frequency_mhz) {
        throw refusal(`antenna.table[${i}].frequency_mhz`, `${row.frequency_mhz} does not rise above the one before`);
      }
      return { frequencyHz: row.frequency_mhz * 1e6, impedance: { re: row.resistance_ohm, im: row.reactance_ohm } };
    });
    return { antenna: antennaOfTable(rows), source: "the table" };
  }
  const name = touchstone === undefined ? EXAMPLE_ANTENNA : touchstone;
  const path = touchstone === undefined ? packageFile(EXAMPLE_ANTENNA) : fileOf(touchstone);
  return { antenna: antennaOfFile(path, name), source: name };
}

function antennaOfFile(path: string, name: string): Antenna {
  let text: string;
  try {
    text = readFileSync(path, "utf8");
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(name, error));
  }
  const file = parseTouchstone(text);
  const antenna = isTextFault(file) ? file : antennaOfTouchstone(file);
  if (!isTextFault(antenna)) return antenna;
  throw new CommandError(EXIT.usage, `${name}:${antenna.line}: ${antenna.field}: ${antenna.says}`);
}

function circuitOf(content: CircuitContent): Circuit {
  if ("resistance_ohm" in content) return { resistanceOhm: content.resistance_ohm };
  if ("inductance_nh" in content) return { inductanceH: content.inductance_nh * 1e-9 };
  if ("capacitance_pf" in content) return { capacitanceF: content.capacitance_pf * 1e-12 };
  if ("series" in content) return { series: content.series.map(circuitOf) };
  return { parallel: content.parallel.map(circuitOf) };
}

function chipOf({ content, refusal }: ScenarioFile<MatchContent>): Chip {
  const entries = content.chip.impedance;
  const points = entries.map((entry, i): ChipPoint => {
    const path = `chip.impedance[${i}]`;
    const { parallel_resistance_ohm, parallel_capacitance_pf, series_resistance_ohm, series_reactance_ohm } = entry;
    if ((parallel_resistance_ohm === undefined) === (series_resistance_ohm === undefined)) {
      throw refusal(path, "give either the parallel or the series resistance, with its capacitance or reactance");
    }
    if (entry.power_dbm === undefined && entries.length > 1) {
      throw refusal(path, "power_dbm is missing: there are several entries");
    }
    const powerDbm = entry.power_dbm ?? content.chip.turn_on_dbm;
    if (i > 0 && powerDbm <= entries[i - 1]!.power_dbm!) {
      throw refusal(`${path}.power_dbm`, `${powerDbm} does not rise above the one before`);
    }
    if (i > 0 && (entries[0]!.parallel_resistance_ohm === undefined) !== (parallel_resistance_ohm === undefined)) {
      throw refusal(path, "all entries must be parallel, or all series");
    }
    if (parallel_resistance_ohm !== undefined) {
      const capacitanceF = parallel_capacitance_pf! * 1e-12;
      return { form: "parallel", powerDbm, resistanceOhm: parallel_resistance_ohm, capacitanceF };
    }
    const capacitanceF = capacitanceOf(series_reactance_ohm!, entry.frequency_mhz! * 1e6);
    return { form: "series", powerDbm, resistanceOhm: series_resistance_ohm!, capacitanceF };
  });
  return points;
}

function bandOf({ content, refusal }: ScenarioFile<MatchContent>): { band: Band; bandName: string } {
  const { name, low_mhz, high_mhz } = content.band ?? { name: "eu_lower" };
  if ((name === undefined) === (low_mhz === undefined)) {
    throw refusal("band", "give either name, or low_mhz and high_mhz");
  }
  if (name !== undefined) {
    const { lowHz, highHz, title } = ruleOf(name);
    return { band: { lowHz, highHz }, bandName: `${title}, ${lowHz / 1e6} to ${highHz / 1e6} MHz` };
  }
  if (low_mhz! >= high_mhz!) throw refusal("band.low_mhz", `${low_mhz} is not below high_mhz ${high_mhz}`);
  return { band: { lowHz: low_mhz! * 1e6, highHz: high_mhz! * 1e6 }, bandName: `${low_mhz} to ${high_mhz} MHz` };
}

function regionOf({ content, refusal }: ScenarioFile<MatchContent>, band: Band): Rule {
  const named = content.link.region ?? content.band?.name;
  if (named !== undefined) {
    const rule = ruleOf(named);
    const middle = (band.lowHz + band.highHz) / 2;
    if (middle >= rule.lowHz && middle <= rule.highHz) return rule;
    throw refusal("link.region", `${named} is ${rule.lowHz / 1e6} to ${rule.highHz / 1e6} MHz, which the band is not`);
  }
  const found = rules.find(({ lowHz, highHz }) => lowHz <= band.lowHz && band.highHz <= highHz);
  if (found) return found;
  throw refusal(
    "link.region",
    `the band lies in none of ${rules.map(({ region }) => region).join(", ")}: say whose limit holds`,
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
