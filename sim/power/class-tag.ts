/** The tag of the class values: what `plyframe budget` begins with, and what the simulated tags run on. */
import type { TagDesign } from "./life.ts";
import { type BudgetScenario, designOf, scenarioOf } from "./scenario.ts";

/** All defaults hold together, which a test sees to. */
export const classScenario = scenarioOf({}) as BudgetScenario;

export const classTag: TagDesign = designOf(classScenario);
