/** Cells of the memory map's tables where a field is not as the specification has it, written out by hand. */
import { describe, expect, it } from "vitest";
import { emitMemoryMap } from "../../../protocol/emit/memory-map.ts";
import { type CompiledField, compile, type Layout } from "../../../protocol/model/layout.ts";
import type { Writer } from "../../../protocol/model/vocabulary.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { withField } from "../../support/changed-layout.ts";

const layout = compile(specification);

/** Rows of the frame's section that are about a field: what its bits are, and what becomes of it. */
function rows(from: Layout, id: string): string[] {
  const section = /<a id="record-frame">[\s\S]*?<a id="record-/.exec(emitMemoryMap(from)[0]!.text)![0];
  return section.split("\n").filter((line) => line.startsWith("| ") && line.includes(`\`${id}\` |`));
}

const changed = (id: string, change: Partial<CompiledField>) => rows(withField(layout, `frame.${id}`, change), id);

describe("a number of the memory map", () => {
  const sequence = '| <a id="frame-sequence"></a>`sequence` | 1 [15:0] | unsigned';
  const plain = {
    num: 1,
    den: 1,
    add: 0,
    unit: "1",
    min: 1,
    max: 9,
    sentinels: [],
    rounding: "half-away-from-zero",
  } as const;

  it.each([
    ["itself", {}, "raw | 1 to 9 |  |  |"],
    ["with a factor", { num: 3 }, "raw x 3 | 1 to 9 | 3 to 27 |  |"],
    ["with a summand", { add: 5 }, "(raw + 5) | 1 to 9 | 6 to 14 |  |"],
    ["with a divisor", { den: 2 }, "raw / 2 | 1 to 9 | 0.5 to 4.5 |  |"],
    ["with all and a unit", { num: 3, add: 5, den: 2, unit: "Pa" }, "(raw x 3 + 5) / 2 Pa | 1 to 9 | 4 to 16 Pa |  |"],
  ])("is %s", (_, change, cells) => {
    expect(changed("sequence", { ...plain, ...change })[0]).toBe(`${sequence} | ${cells}`);
  });

  it("has its special values in a row", () => {
    const sentinels = [
      { raw: 0, id: "none", means: "absent" },
      { raw: 10, id: "more", means: "saturated" },
    ] as const;
    expect(changed("sequence", { ...plain, sentinels })[0]).toBe(
      `${sequence} | raw | 1 to 9 |  | 0 = \`none\` (absent), 10 = \`more\` (saturated) |`,
    );
  });
});

describe("a row of the memory map", () => {
  it("names the bits of a word that a container in its lower half has", () => {
    const [bits] = changed("status", { byte: 1, bytes: 1, shift: 0, width: 8 });
    expect(bits).toMatch(/`status` \| 0 \[7:0\] \| flags /);
  });

  it("keeps a bar within its cell, and is empty where a cold start says nothing", () => {
    const [, life] = changed("uptime", { coldStart: null, why: "a | b" });
    expect(life).toBe("| `uptime` |  | firmware | password-write | a \\| b |");
  });

  it("names everybody who writes it", () => {
    const writers: { [region: string]: Writer } = { slot_a: "factory", slot_b: "firmware" };
    const banks = layout.banks.map((bank) => ({
      ...bank,
      regions: bank.regions.map((region) => ({ ...region, writer: writers[region.id] ?? region.writer })),
    }));
    expect(rows({ ...layout, banks }, "uptime")[1]).toMatch(/^\| `uptime` \| 0 \| factory, firmware \| /);
  });
});
