/** Everything `plyframe budget` works out, before it is put into words or pictures. */
import {
  type Answer,
  type Bar,
  type BudgetScenario,
  brownOutsPerMinute,
  designOf,
  distanceOfLevel,
  firstFrameCharge,
  type Life,
  leastCapacitor,
  live,
  type Moment,
  nextE6,
  sampleCharge,
  storeCharge,
  sustainableRate,
  type TagDesign,
  timeToFirstFrame,
  tornado,
} from "../../../sim/index.ts";

/** An answer's question, its unit as it is printed, and what a value is multiplied by for that. */
export interface Question {
  readonly id: "first_frame_s" | "rate_per_s" | "least_capacitor_uf" | "brown_outs_per_minute";
  readonly text: string;
  readonly unit: string;
  readonly scale: number;
  readonly ask: (design: TagDesign) => Answer;
}

export interface RatePoint {
  readonly powerDbm: number;
  readonly distanceM: number;
  readonly rate: Answer;
}

export interface BudgetResult {
  readonly questions: readonly Question[];
  readonly answers: readonly Answer[];
  readonly life: Life;
  readonly moments: readonly Moment[];
  readonly rates: readonly RatePoint[];
  readonly tornados: readonly (readonly Bar[])[];
  readonly nextE6Uf: number | null;
  readonly distanceM: number;
  readonly firstFrameUc: number;
  readonly sampleUc: number;
  readonly storeUc: number;
}

const POINTS = 21;

/** What is drawn of a life is its beginning: so many seconds. */
const DRAWN_S = 60;

export function solveBudget(scenario: BudgetScenario): BudgetResult {
  const design = designOf(scenario);
  const lifeS = scenario.values["answers.life_s"]!;
  const questions: readonly Question[] = [
    { id: "first_frame_s", text: "time to first frame", unit: "s", scale: 1, ask: timeToFirstFrame },
    { id: "rate_per_s", text: "sustainable sampling rate", unit: "/s", scale: 1, ask: sustainableRate },
    { id: "least_capacitor_uf", text: "least capacitor for one task", unit: "uF", scale: 1e6, ask: leastCapacitor },
    {
      id: "brown_outs_per_minute",
      text: "losses of supply a minute",
      unit: "/min",
      scale: 1,
      ask: (asked) => brownOutsPerMinute(asked, lifeS),
    },
  ];
  const answers = questions.map(({ ask }) => ask(design));
  const capacitor = answers[2]!;
  const moments: Moment[] = [];
  const life = live(design, {
    untilS: lifeS,
    observe: (moment) => {
      if (moment.fromS < DRAWN_S) moments.push(moment);
    },
  });
  return {
    questions,
    answers,
    life,
    moments,
    rates: ratesOver(scenario, design),
    tornados: questions.map(({ ask }) => tornado(scenario, ask)),
    nextE6Uf: "value" in capacitor ? Number((nextE6(capacitor.value) * 1e6).toPrecision(6)) : null,
    distanceM: distanceOfLevel(scenario, design.field.powerDbm),
    firstFrameUc: firstFrameCharge(design.load) * 1e6,
    sampleUc: sampleCharge(design.load) * 1e6,
    storeUc: storeCharge(design.supply) * 1e6,
  };
}

function ratesOver(scenario: BudgetScenario, design: TagDesign): readonly RatePoint[] {
  const from = scenario.values["answers.power_from_dbm"]!;
  const to = scenario.values["answers.power_to_dbm"]!;
  return Array.from({ length: POINTS }, (_, i) => {
    const powerDbm = from + ((to - from) * i) / (POINTS - 1);
    const rate = sustainableRate({ ...design, field: { ...design.field, powerDbm } });
    return { powerDbm, distanceM: distanceOfLevel(scenario, powerDbm), rate };
  });
}
