/** The summed stack bound against the stack that emulated cores use. */
import { describe, expect, it } from "vitest";
import { boundDepth, measureDepth } from "./support/depths.ts";
import { needsAll } from "./support/needs-all.ts";
import { sealNames, sealTables, targets } from "./support/targets.ts";

describe.each(targets.map((target) => [target.title, target] as const))("%s", (_, target) => {
  needsAll(target.programs, () => {
    it.each(sealTables.map((table) => [sealNames[table], table] as const))(
      "%s: a run of the duty cycle goes no deeper than the bound, and not far from it",
      (_, table) => {
        const bound = boundDepth(target, table).bytes;
        const used = measureDepth(target, table);
        expect(used).toBeLessThanOrEqual(bound);
        expect(used).toBeGreaterThan(0.75 * bound);
      },
    );
  });
});
