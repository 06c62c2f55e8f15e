/** Eva shows no undefined behaviour in decode and encode for any words and any number of them, and reports what is planted. */
import { describe, expect, it } from "vitest";
import { changedSource } from "./support/changed-source.ts";
import { analyse, machines } from "./support/eva.ts";
import { needsAll } from "./support/needs-all.ts";
import { sealNames, sealTables } from "./support/targets.ts";

const LIMIT_MS = 300_000;

const planted = [
  [
    "a loop one step too long",
    "for (uint8_t i = 0; i < length; i++)",
    "for (uint8_t i = 0; i <= length; i++)",
    "out of bounds read",
  ],
  ["a record that may be short", "if (count < length) {", "if (count + 1u < length) {", "out of bounds read"],
  [
    "a table one entry short",
    "static const uint16_t seal_table[16] PLY_TABLE_MEMORY = PLY_SEAL_BY_NIBBLE;",
    "static const uint16_t seal_table[15] = {0};",
    "out of bounds index",
  ],
  [
    "a sign left to the compiler",
    "return word < 0x8000u ? (int16_t)word : (int16_t)(-(int16_t)(0xFFFFu - word) - 1);",
    "return (int16_t)word;",
    "signed downcast",
  ],
] as const;

describe("frama-c Eva", () => {
  needsAll(["frama-c"], () => {
    describe.each(machines)("%s", (machine) => {
      it.each(sealTables.map((table) => [sealNames[table], table] as const))(
        "%s: no alarm, every statement reached",
        (_, table) => {
          const { alarms, statements, statementsReached } = analyse(machine, table);
          expect(alarms).toEqual([]);
          expect(statementsReached).toBe(statements);
        },
        LIMIT_MS,
      );
    });

    it.each(planted)(
      "reports %s",
      (_, text, by, says) => {
        const { alarms } = analyse("gcc_x86_16", 16, changedSource(text, by));
        expect(alarms.join("\n")).toContain(says);
      },
      LIMIT_MS,
    );
  });
});
