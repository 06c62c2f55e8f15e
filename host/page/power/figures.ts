/** The figures of a power budget from what was set by hand: by the code of the simulation, as the command line has them. */

import {
  type Answer,
  antennaOfTouchstone,
  type BudgetContent,
  budgetOf,
  type Candidate,
  farFieldFromM,
  isTextFault,
  linkedLevelDbm,
  type MatchContent,
  type MatchScenario,
  type Moment,
  matchScenarioOf,
  momentsIn,
  parseTouchstone,
  rankInductors,
  scenarioOf,
  tauOf,
} from "../../../sim/index.ts";
import antennaText from "../../../vectors/examples/tag-antenna.s1p?raw";
import matchSchema from "../../../vectors/schema/match.schema.json";
import { type BudgetInputs, budgetContentOf, matchContentOf } from "./inputs.ts";
import { withDefaults } from "./schema-defaults.ts";

export type DrawnWindow = "start" | "work";

/** A stretch of the tag's life as it is drawn. */
export interface Drawn {
  readonly fromS: number;
  readonly toS: number;
  readonly moments: readonly Moment[];
}

export interface PowerFigures {
  readonly levelDbm: number;
  readonly tau: number;
  readonly inductorNh: number | null;
  readonly bestNh: number | null;
  /** Without any inductor the match would be better than with this one. */
  readonly betterWithout: boolean;
  /** Nearer than the formulas hold. */
  readonly near: boolean;
  readonly firstFrame: Answer;
  /** Samples a second. */
  readonly rate: Answer;
  readonly askedPerS: number;
  /** In farad. */
  readonly leastCapacitor: Answer;
  readonly nextE6Uf: number | null;
  readonly lossesPerMinute: number;
  readonly samplesGivenUp: number;
  readonly frames: number;
  readonly lifeS: number;
  readonly supervisorOnV: number;
  readonly supervisorOffV: number;
  readonly sampleV: number;
  readonly drawn: { readonly [window in DrawnWindow]: Drawn };
}

/** The match scenario of the inputs, and the antenna that the command takes when none is named. */
export function matchOf(inputs: BudgetInputs): MatchScenario {
  const file = parseTouchstone(antennaText);
  const antenna = isTextFault(file) ? file : antennaOfTouchstone(file);
  if (isTextFault(antenna)) throw new Error(antenna.says);
  const content = withDefaults(matchSchema, matchContentOf(inputs)) as unknown as MatchContent;
  const scenario = matchScenarioOf(content, antenna, "vectors/examples/tag-antenna.s1p");
  if ("sentence" in scenario) throw new Error(scenario.sentence);
  return scenario;
}

/** By the measure that the scenario names, best first; the one without an inductor is among them. */
function ranked({ antenna, chip, inductors, band, chipTurnOnDbm, goal }: MatchScenario): readonly Candidate[] {
  return rankInductors({ antenna, chip }, inductors, band, chipTurnOnDbm, goal);
}

export function powerFigures(inputs: BudgetInputs): PowerFigures {
  const best = ranked(matchOf({ ...inputs, inductorNh: null }))[0]!;
  const match = matchOf(inputs);
  const own = inputs.inductorNh === null ? [best] : ranked(match);
  const chosen = own.find(({ inductor }) => inductor !== null) ?? own[0]!;
  const levelDbm = linkedLevelDbm(match, chosen, inputs.dressing, match.distanceM);
  const content = {
    ...budgetContentOf(inputs),
    field: { power_dbm: levelDbm },
    link: { power_at_1_m_dbm: linkedLevelDbm(match, chosen, inputs.dressing, 1) },
  };
  const scenario = scenarioOf(content as BudgetContent);
  if (!("title" in scenario)) throw new Error(scenario.map(({ sentence }) => sentence).join("; "));
  const { answers, life, moments, nextE6Uf } = budgetOf(scenario);
  const [firstFrame, rate, leastCapacitor, losses] = answers as readonly [Answer, Answer, Answer, Answer];
  const { values } = scenario;
  const window = (fromS: number, toS: number): Drawn => ({ fromS, toS, moments: momentsIn(moments, fromS, toS) });
  const [startS, endS] = [moments.find(({ activity }) => activity !== "off")?.fromS ?? null, life.seconds];
  const spanS = Math.max(0.4, (4 * inputs.periodMs) / 1000);
  const work =
    startS === null ? window(0, endS) : window(Math.max(0, startS - spanS / 8), Math.min(endS, startS + spanS));
  return {
    levelDbm,
    tau: tauOf(match, chosen)(chosen.worstHz, levelDbm),
    inductorNh: nanohenry(chosen),
    bestNh: nanohenry(best),
    betterWithout: own[0] !== chosen,
    near: inputs.distanceM < farFieldFromM(chosen.worstHz, match.antennaSizeM),
    firstFrame,
    rate,
    askedPerS: 1000 / inputs.periodMs,
    leastCapacitor,
    nextE6Uf,
    lossesPerMinute: "value" in losses ? losses.value : 0,
    samplesGivenUp: life.skipped,
    frames: life.frames,
    lifeS: endS,
    supervisorOnV: values["supervisor.on_v"]!,
    supervisorOffV: values["supervisor.off_v"]!,
    sampleV: values["firmware.start_mv"]! / 1000,
    drawn: { work, start: startS === null ? work : window(0, Math.min(endS, startS + spanS)) },
  };
}

function nanohenry({ inductor }: Candidate): number | null {
  return inductor && Number((inductor.inductanceH * 1e9).toPrecision(9));
}
