/** A scenario of `plyframe match` from its file, with the antenna from another one where it names it. */
import { readFileSync } from "node:fs";
import {
  type Antenna,
  antennaOfCircuit,
  antennaOfTable,
  antennaOfTouchstone,
  type Circuit,
  type CircuitContent,
  isTextFault,
  type MatchContent,
  type MatchScenario as MatchDesign,
  matchScenarioOf,
  parseTouchstone,
} from "../../../sim/index.ts";
import { CommandError, EXIT, systemSentence } from "../exit.ts";
import { packageFile } from "../package-file.ts";
import { type Assumption, readScenario, type ScenarioFile } from "../scenario-file.ts";

export interface MatchScenario extends MatchDesign {
  readonly assumed: readonly Assumption[];
}

const EXAMPLE_ANTENNA = "vectors/examples/tag-antenna.s1p";

/** Reads a scenario of `plyframe match`; throws a CommandError with place for everything wrong in it. */
export function readMatchScenario(file: string | undefined): MatchScenario {
  const scenario = readScenario<MatchContent>(file, "match.schema.json");
  const { content } = scenario;
  const { antenna, source } = antennaOf(scenario);
  const design = matchScenarioOf(content, antenna, source);
  if ("sentence" in design) throw scenario.refusal(design.path, design.sentence);
  return { ...design, assumed: [...assumedFiles(content), ...scenario.assumed] };
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
