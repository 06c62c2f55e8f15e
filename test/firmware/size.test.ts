/** The size table against the compilers, and against what the firmware is allowed to take. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { needsAll } from "./support/needs-all.ts";
import { root } from "./support/program.ts";
import { compilerOf, measureSizes, SIZE_FILE, sizePage, sizeRow } from "./support/sizes.ts";
import { expectFresh } from "./support/stale.ts";
import { sealNames, sealTables, targets } from "./support/targets.ts";

const page = readFileSync(join(root, SIZE_FILE), "utf8");
const rows = page.split("\n").filter((line) => /^\| .* \d+ \|/.test(line));

it("holds a row for every target and seal, and nothing else", () => {
  const cells = rows.map((row) => row.split(" | "));
  expect(cells.map(([target, , seal]) => `${target}, ${seal}`)).toEqual(
    targets.flatMap(({ title }) => sealTables.map((table) => `| ${title}, ${sealNames[table]}`)),
  );
  expect(sizePage(rows)).toBe(page);
});

describe.each(targets.map((target, i) => [target.title, target, rows.slice(3 * i, 3 * i + 3)] as const))(
  "%s",
  (_, target, kept) => {
    needsAll(target.programs, () => {
      it.for(sealTables.map((table, i) => [sealNames[table], table, kept[i]!] as const))(
        "%s: the kept row is what the compiler gives",
        ([, table, row], context) => {
          const measured = sizeRow(target, measureSizes(target, table));
          const figures = (line: string) => line.split(" | ").slice(2);
          const tool = row.split(" | ")[1]!;
          expectFresh(
            context,
            { tool: compilerOf(target), figures: figures(measured) },
            { tool, figures: figures(row) },
          );
        },
      );
    });
  },
);

describe("Arm Cortex-M0+", () => {
  needsAll(targets[0]!.programs, () => {
    it.each(sealTables)("seal table of %i: at most 4 KiB of flash and 256 bytes of RAM", (table) => {
      const { flashBytes, ramBytes } = measureSizes(targets[0]!, table);
      expect(flashBytes).toBeLessThanOrEqual(4096);
      expect(ramBytes).toBeLessThanOrEqual(256);
    });
  });
});
