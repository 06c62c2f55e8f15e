/** Everything `plyframe budget` works out, before it is put into words or pictures. */
import {
  type Answer,
  type Bar,
  type Budget,
  type BudgetScenario,
  budgetOf,
  designOf,
  distanceOfLevel,
  sustainableRate,
  type TagDesign,
  tornado,
} from "../../../sim/index.ts";

export interface RatePoint {
  readonly powerDbm: number;
  readonly distanceM: number;
  readonly rate: Answer;
}

export interface BudgetResult extends Budget {
  readonly rates: readonly RatePoint[];
  readonly tornados: readonly (readonly Bar[])[];
}

const POINTS = 21;

export function solveBudget(scenario: BudgetScenario): BudgetResult {
  const budget = budgetOf(scenario);
  return {
    ...budget,
    rates: ratesOver(scenario, designOf(scenario)),
    tornados: budget.questions.map(({ ask }) => tornado(scenario, ask)),
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
