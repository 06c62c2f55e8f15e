/** A power budget: the answers to what an engineer asks of a scenario, and the life from which they can be seen. */
import {
  type Answer,
  brownOutsPerMinute,
  leastCapacitor,
  nextE6,
  storeCharge,
  sustainableRate,
  timeToFirstFrame,
} from "./answers.ts";
import { type Life, live, type Moment, type TagDesign } from "./life.ts";
import { firstFrameCharge, sampleCharge } from "./load.ts";
import { type BudgetScenario, designOf, distanceOfLevel } from "./scenario.ts";

/** An answer's question, its unit as it is printed, and what a value is multiplied by for that. */
export interface Question {
  readonly id: "first_frame_s" | "rate_per_s" | "least_capacitor_uf" | "brown_outs_per_minute";
  readonly text: string;
  readonly unit: string;
  readonly scale: number;
  readonly ask: (design: TagDesign) => Answer;
}

export interface Budget {
  readonly questions: readonly Question[];
  /** In the order of the questions. */
  readonly answers: readonly Answer[];
  readonly life: Life;
  /** The first DRAWN_S seconds of the life. */
  readonly moments: readonly Moment[];
  readonly nextE6Uf: number | null;
  /** Where the level at the chip is found in free space. */
  readonly distanceM: number;
  readonly firstFrameUc: number;
  readonly sampleUc: number;
  readonly storeUc: number;
}

/** What is drawn of a life is its beginning: so many seconds. */
const DRAWN_S = 60;

export function budgetOf(scenario: BudgetScenario): Budget {
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
    nextE6Uf: "value" in capacitor ? Number((nextE6(capacitor.value) * 1e6).toPrecision(6)) : null,
    distanceM: distanceOfLevel(scenario, design.field.powerDbm),
    firstFrameUc: firstFrameCharge(design.load) * 1e6,
    sampleUc: sampleCharge(design.load) * 1e6,
    storeUc: storeCharge(design.supply) * 1e6,
  };
}
