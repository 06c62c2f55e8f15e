/** `npm run firmware-cost`: what the firmware costs; `-- --write` keeps it in protocol/firmware/cost.ts and COST.md. */
import { COST_FILE, COST_PAGE, costFile, costPage } from "./support/cost-page.ts";
import { measureCosts } from "./support/costs.ts";
import { installedTargets } from "./support/installed.ts";
import { keepIfAsked } from "./support/keep.ts";
import { sealTables } from "./support/targets.ts";

const measured = installedTargets().flatMap((target) => sealTables.map((table) => measureCosts(target, table)));
const costs = measured.map(({ cost }) => cost);
const traffic = measured[0]?.traffic ?? [];
const page = costPage(costs, traffic);
console.log(page);
keepIfAsked({ [COST_FILE]: costFile(costs, traffic), [COST_PAGE]: page });
