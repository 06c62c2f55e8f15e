/** A scenario of `plyframe turnon` made into what the radio model takes. */
import { readFileSync } from "node:fs";
import {
  isTextFault,
  parseTurnOnTable,
  type Region,
  type Rule,
  ruleOf,
  type TurnOnSetup,
  type TurnOnTable,
} from "../../../sim/index.ts";
import { CommandError, EXIT, systemSentence } from "../exit.ts";
import { packageFile } from "../package-file.ts";
import { type Assumption, readScenario } from "../scenario-file.ts";
import { type MatchScenario, readMatchScenario } from "./match-scenario.ts";

/** As vectors/schema/turnon.schema.json has it, defaults filled in. */
interface TurnOnContent {
  readonly title?: string;
  readonly sweep?: string;
  readonly model?: string;
  readonly region: Region;
  readonly setup: {
    readonly cable_loss_db: number;
    readonly cable_loss_standard_db: number;
    readonly antenna_gain_dbi: number;
    readonly antenna_gain_standard_db: number;
    readonly antenna_size_m: number;
    readonly polarisation_loss_db: number;
    readonly polarisation_loss_standard_db: number;
    readonly excess_loss_db: number;
    readonly excess_loss_standard_db: number;
    readonly chip_turn_on_standard_db: number;
    readonly reader_standard_db: number;
    readonly step_db: number;
    readonly distance_standard_m: number;
  };
}

export interface TurnOnScenario {
  readonly title: string;
  readonly assumed: readonly Assumption[];
  readonly sweepName: string;
  readonly table: TurnOnTable;
  readonly rule: Rule;
  readonly setup: TurnOnSetup;
  readonly antennaSizeM: number;
  readonly model: MatchScenario;
}

const EXAMPLE_SWEEP = "vectors/examples/turn-on.csv";

/** Reads a scenario of `plyframe turnon`, its sweep and its model; throws a CommandError for what makes them useless. */
export function readTurnOnScenario(file: string | undefined): TurnOnScenario {
  const { content, assumed, fileOf } = readScenario<TurnOnContent>(file, "turnon.schema.json");
  const { setup, sweep, model: modelName } = content;
  const sweepName = sweep ?? EXAMPLE_SWEEP;
  const table = readTable(sweep === undefined ? packageFile(EXAMPLE_SWEEP) : fileOf(sweep), sweepName);
  const model = readMatchScenario(modelName === undefined ? undefined : fileOf(modelName));
  const level = (db: number, standardDb: number) => ({ db, standardDb });
  const assumedFiles: Assumption[] = [
    ...(sweep === undefined ? [{ path: "sweep", value: EXAMPLE_SWEEP, standing: "invented" }] : []),
    ...(modelName === undefined
      ? [{ path: "model", value: "the defaults of plyframe match", standing: "as it says" }]
      : []),
  ];
  return {
    title: content.title ?? "Turn-on sweep of a tag",
    assumed: [...assumedFiles, ...assumed],
    sweepName,
    table,
    rule: ruleOf(content.region),
    antennaSizeM: setup.antenna_size_m,
    model,
    setup: {
      cableLoss: level(setup.cable_loss_db, setup.cable_loss_standard_db),
      antennaGain: level(setup.antenna_gain_dbi, setup.antenna_gain_standard_db),
      polarisationLoss: level(setup.polarisation_loss_db, setup.polarisation_loss_standard_db),
      excessLoss: level(setup.excess_loss_db, setup.excess_loss_standard_db),
      chipTurnOn: level(model.chipTurnOnDbm, setup.chip_turn_on_standard_db),
      readerStandardDb: setup.reader_standard_db,
      stepDb: setup.step_db,
      distanceStandardM: setup.distance_standard_m,
    },
  };
}

function readTable(path: string, name: string): TurnOnTable {
  let text: string;
  try {
    text = readFileSync(path, "utf8");
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(name, error));
  }
  const table = parseTurnOnTable(text);
  if (!isTextFault(table)) return table;
  throw new CommandError(EXIT.usage, `${name}:${table.line}: ${table.field}: ${table.says}`);
}
