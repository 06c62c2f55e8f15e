/** The cost table against the emulators, and against what sealing a frame is allowed to cost. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { firmwareCosts, portTraffic } from "../../protocol/firmware/cost.ts";
import { COST_FILE, COST_PAGE, costFile, costPage } from "./support/cost-page.ts";
import { measureCosts } from "./support/costs.ts";
import { needsAll } from "./support/needs-all.ts";
import { root } from "./support/program.ts";
import { expectFresh } from "./support/stale.ts";
import { sealNames, sealTables, targets } from "./support/targets.ts";

it("holds every target and seal, and the page says what the data file says", () => {
  expect(firmwareCosts.map(({ target, sealTable }) => [target, sealTable])).toEqual(
    targets.flatMap(({ id }) => sealTables.map((table) => [id, table])),
  );
  const text = (path: string) => readFileSync(join(root, path), "utf8");
  expect(text(COST_FILE)).toBe(costFile(firmwareCosts, portTraffic));
  expect(text(COST_PAGE)).toBe(costPage(firmwareCosts, portTraffic));
});

it("seals a frame in at most 500 instructions on a Cortex-M0 with one of the tables", () => {
  const costs = firmwareCosts.filter(({ target }) => target === "cortex-m0");
  expect(Math.min(...costs.map(({ counts }) => counts.frame_encode))).toBeLessThanOrEqual(500);
});

describe.each(targets.map((target) => [target.title, target] as const))("%s", (_, target) => {
  needsAll(target.programs, () => {
    it.for(sealTables.map((table) => [sealNames[table], table] as const))(
      "%s: the kept counts are what the emulator counts",
      ([, table], context) => {
        const { cost, traffic } = measureCosts(target, table);
        const kept = firmwareCosts.find(({ target: id, sealTable }) => id === target.id && sealTable === table)!;
        expectFresh(context, { tool: cost.tool, figures: cost.counts }, { tool: kept.tool, figures: kept.counts });
        expect(traffic).toEqual(portTraffic);
      },
    );
  });
});
