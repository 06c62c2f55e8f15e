/** A budget at the power that a match scenario's link brings to the chip, through its dressing, at its distance. */
import { linkedLevelDbm } from "../../../sim/index.ts";
import { CommandError, EXIT } from "../exit.ts";
import { solveMatch } from "../radio/match-result.ts";
import { readMatchScenario } from "../radio/match-scenario.ts";
import type { ScenarioFile } from "../scenario-file.ts";

/** What stands for the scenario that `plyframe match` runs without a file. */
const DEFAULT = "default";

/**
 * The content with the level at the chip and the level in 1 m taken from the link. Throws a CommandError for a dressing that
 * is none, and for everything wrong in the match scenario.
 */
export function linkedTo<Content extends object>(
  budget: ScenarioFile<Content>,
  match: string,
  dressing: string,
): ScenarioFile<Content> {
  if (dressing !== "dry" && dressing !== "wet") {
    throw new CommandError(EXIT.usage, `--dressing ${dressing}: there are dry, wet`);
  }
  const scenario = readMatchScenario(match === DEFAULT ? undefined : match);
  const { chosen } = solveMatch(scenario);
  const level = (distanceM: number) => linkedLevelDbm(scenario, chosen, dressing, distanceM);
  const levels = { "field.power_dbm": level(scenario.distanceM), "link.power_at_1_m_dbm": level(1) };
  const { field, link } = budget.content as { readonly field?: object; readonly link?: object };
  const content = {
    ...budget.content,
    field: { ...field, power_dbm: levels["field.power_dbm"] },
    link: { ...link, power_at_1_m_dbm: levels["link.power_at_1_m_dbm"] },
  };
  const standing = `from the link of ${match === DEFAULT ? "plyframe match" : match}, ${dressing}, ${scenario.distanceM} m`;
  const others = budget.assumed.filter(({ path }) => !(path in levels));
  const linked = Object.entries(levels).map(([path, value]) => ({ path, value, standing }));
  return { ...budget, content, assumed: [...linked, ...others] };
}
