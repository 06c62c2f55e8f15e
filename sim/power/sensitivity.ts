/** How much each answer moves with each parameter: the bars of a tornado. */
import type { Answer } from "./answers.ts";
import type { TagDesign } from "./life.ts";
import { type Parameter, parameters } from "./parameters.ts";
import { type BudgetScenario, designOf, withValues } from "./scenario.ts";

export interface Bar {
  readonly path: string;
  /** The parameter as it was tried, in the unit of its name. */
  readonly low: number;
  readonly high: number;
  /** The answer there; null when there is none, or when the parameter cannot go there beside the others. */
  readonly atLow: number | null;
  readonly atHigh: number | null;
}

/** Answers are found to about half a percent: what moves hardly more does not show. */
const LEAST_REACH = 0.02;

/** Bars of one answer, longest first; those that do not move it are left out. */
export function tornado(scenario: BudgetScenario, ask: (design: TagDesign) => Answer): readonly Bar[] {
  const base = numberIn(ask(designOf(scenario)));
  if (base === null) return [];
  const bars = parameters.flatMap((parameter): Bar[] => {
    const { path, swing } = parameter;
    const value = scenario.values[path]!;
    if (swing === 0 || value === 0) return [];
    const [low, high] = moved(parameter, value);
    const [atLow, atHigh] = [low, high].map((tried) => {
      const changed = withValues(scenario, { [path]: tried });
      return changed && numberIn(ask(designOf(changed)));
    }) as [number | null, number | null];
    return [{ path, low, high, atLow, atHigh }];
  });
  const reach = ({ atLow, atHigh }: Bar) => {
    if (atLow === null || atHigh === null) return Number.POSITIVE_INFINITY;
    return Math.max(atLow, atHigh, base) - Math.min(atLow, atHigh, base);
  };
  const moves = bars.filter((bar) => reach(bar) > LEAST_REACH * base);
  return moves.sort((a, b) => (reach(b) === reach(a) ? 0 : reach(b) - reach(a)));
}

function moved({ path, swing, low, high }: Parameter, value: number): readonly [number, number] {
  const [down, up] = path.endsWith("_dbm")
    ? [value - swing, value + swing]
    : [value * (1 - swing), value * (1 + swing)];
  return [Math.max(low, down), Math.min(high, up)];
}

function numberIn(answer: Answer): number | null {
  return "value" in answer ? answer.value : null;
}
