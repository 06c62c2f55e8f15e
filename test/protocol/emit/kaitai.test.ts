/** What the Kaitai description says where a field is not as the specification has it, written out by hand. */
import { describe, expect, it } from "vitest";
import { stepOf } from "../../../protocol/emit/kaitai/judgement.ts";
import { emitKaitai } from "../../../protocol/emit/kaitai/kaitai.ts";
import { toYaml } from "../../../protocol/emit/kaitai/yaml.ts";
import { type CompiledField, compile, type Layout } from "../../../protocol/model/layout.ts";
import type { Sentinel } from "../../../protocol/model/vocabulary.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { withEmptyRegion, withField, withRecord } from "../../support/changed-layout.ts";

const layout = compile(specification);

/** The lines of a record. */
function typeOf(from: Layout, record: string): string {
  return new RegExp(`\n  ${record}:\n[^]*?\n  \\w`).exec(emitKaitai(from)[0]!.text)![0];
}

const changed = (id: string, change: Partial<CompiledField>) =>
  typeOf(withField(layout, `ambient_report.${id}`, change), "ambient_report");

/** The verdict's part that is about a field: reason 10, and the field's index. */
const refused = (id: string, index: number, change: Partial<CompiledField>) =>
  changed(id, change)
    .split(" : ")
    .filter((part) => part.endsWith(` ? ${2560 + index}`));

const sentinels = (...raws: number[]): Sentinel[] => raws.map((raw) => ({ raw, id: `at_${raw}`, means: "absent" }));

describe("a slice of 64 bits, in halves of 32", () => {
  it.each([
    ["of the upper half", 36, 4, "(byte_0_high / 16 % 16)"],
    ["that begins the upper half", 32, 16, "(byte_0_high % 65536)"],
    ["of the lower half", 8, 16, "(byte_0_low / 256 % 65536)"],
    ["that ends the lower half", 16, 16, "(byte_0_low / 65536)"],
    ["of both", 24, 16, "((byte_0_high % 256) * 256 + (byte_0_low / 16777216))"],
  ])("%s", (_, shift, width, value) => {
    expect(changed("kit_time", { shift, width })).toContain(`\n      kit_time:\n        value: "${value}"\n`);
  });

  it("has no sign", () => {
    expect(() => changed("kit_time", { signed: true })).toThrow(
      "ambient_report.kit_time: a signed slice of 64 bits is not emitted",
    );
  });

  it("has its lower half in front when the least byte comes first", () => {
    expect(changed("kit_time_reserved", { little: true })).toContain(
      '\n      - id: "byte_0_low"\n        type: "u4le"\n      - id: "byte_0_high"\n        type: "u4le"\n',
    );
  });
});

describe("a container", () => {
  it("is read least byte first where it lies so, and one byte has no order", () => {
    expect(changed("pressure", { little: true })).toContain('- id: "pressure_raw"\n        type: "u4le"\n');
    const octet = { bytes: 1, width: 8, little: true };
    expect(changed("temperature", octet)).toContain('- id: "temperature_raw"\n        type: "s1"\n');
  });

  it("of which a part is used is read without a sign, and the part gets its own", () => {
    const text = changed("temperature", { width: 12 });
    expect(text).toContain('- id: "byte_12"\n        type: "u2"\n        doc: "temperature"\n');
    const part = "(byte_12 % 4096)";
    expect(text).toContain(`\n      temperature_raw:\n        value: "(${part} >= 2048 ? ${part} - 4096 : ${part})"\n`);
  });

  it("is not called by a word that a language keeps for itself", () => {
    const own = { id: "class", unit: "1", num: 1, den: 1, add: 0, sentinels: [], signed: false } as const;
    expect(changed("temperature", own)).toContain('- id: "class_"\n        type: "u2"\n');
  });
});

describe("what a number means", () => {
  it.each([
    ["a factor", { num: 3, den: 1, add: 0 }, "pressure_raw * 3"],
    ["a summand", { num: 1, den: 1, add: 5 }, "pressure_raw + 5"],
    ["a divisor", { num: 1, den: 2, add: 0 }, "pressure_raw / 2.0"],
    ["all three", { num: 3, den: 2, add: 5 }, "(pressure_raw * 3 + 5) / 2.0"],
  ])("has %s", (_, scale, value) => {
    expect(changed("pressure", scale)).toContain(
      `\n      pressure:\n        value: "${value}"\n        doc: "In Pa."\n`,
    );
  });

  it("is the most where it is saturated, and is there unless one of its special values says not", () => {
    const special: Sentinel[] = [
      { raw: 9, id: "above", means: "saturated" },
      { raw: 10, id: "broken", means: "absent" },
      { raw: 11, id: "away", means: "absent" },
    ];
    const change = { num: 1, den: 1, add: 0, unit: "1", min: 0, max: 8, sentinels: special };
    expect(changed("pressure", change)).toContain(`
      pressure:
        value: "(pressure_raw == 9 ? 8 : pressure_raw)"
        if: "pressure_raw != 10 and pressure_raw != 11"
        doc: "Number; raw 9: above; raw 10: broken; raw 11: away."
`);
  });
});

describe("the verdict", () => {
  it.each([
    ["a least alone", { min: 1, max: 2 ** 32 - 1 }, "(pressure_raw < 1)"],
    ["a most alone", { min: 0, max: 9 }, "(pressure_raw > 9)"],
    [
      "special values next to the limits",
      { min: 12, max: 20, sentinels: sentinels(10, 11, 21, 22) },
      "(pressure_raw < 10 or pressure_raw > 22)",
    ],
    [
      "a special value apart",
      { min: 12, max: 20, sentinels: sentinels(9) },
      "(pressure_raw < 12 or pressure_raw > 20) and pressure_raw != 9",
    ],
  ])("knows %s", (_, change, when) => {
    expect(refused("pressure", 2, change)).toEqual([`(${when}) ? 2562`]);
  });

  it("has no limit where every value is allowed, of either sign", () => {
    expect(refused("pressure", 2, { min: 0, max: 2 ** 32 - 1 })).toEqual([]);
    expect(refused("temperature", 3, { min: -(2 ** 15), max: 2 ** 15 - 1, sentinels: [] })).toEqual([]);
  });

  it("refuses a flag without a name: reason 8, field 2", () => {
    const flags = { type: "flags", width: 4, named: 0b0110, flags: [] } as const;
    const value = "(byte_8 % 16)";
    expect(changed("pressure", flags)).toContain(` : ((${value} / 1) % 2 == 1 or (${value} / 8) % 2 == 1) ? 2050 : `);
    expect(changed("pressure", { ...flags, named: 0b1111 })).not.toContain("2050");
  });
});

describe("the words of a read", () => {
  const report = layout.records.find(({ id }) => id === "tag_report")!;
  const [epc, words] = [report.tails.find(({ id }) => id === "epc")!, report.tails.find(({ id }) => id === "words")!];
  const firstWord = (from: Layout) => /\n {6}first_word_at:\n {8}value: "(.*)"\n/.exec(typeOf(from, "tag_report"))?.[1];

  it("begin behind what stands in front of them", () => {
    const start = `${report.bytes}`;
    const more = { ...epc, id: "more" };
    expect(firstWord(withRecord(layout, "tag_report", { tails: [words] }))).toBe(start);
    expect(firstWord(withRecord(layout, "tag_report", { tails: [epc, more, words] }))).toBe(
      `${start} + 2 * epc_words + 2 * epc_words`,
    );
  });

  it.each(["bank", "pointer"])("are not looked at without a %s", (id) => {
    expect(firstWord(withField(layout, `tag_report.${id}`, { id: "other" }))).toBeUndefined();
  });
});

describe("the description", () => {
  it("has nothing where no record is", () => {
    expect(emitKaitai(withEmptyRegion(layout, "nothing", 4))).toEqual(emitKaitai(layout));
  });

  it("reads containers in the order of the bytes, whatever the order of the fields", () => {
    const { fields } = layout.records.find(({ id }) => id === "ambient_report")!;
    const seq = (from: Layout) => /\n {4}seq:\n[\s\S]*?\n {4}instances:/.exec(typeOf(from, "ambient_report"))![0];
    expect(seq(withRecord(layout, "ambient_report", { fields: [...fields].reverse() }))).toBe(seq(layout));
  });

  it("judges every element of an array by its place", () => {
    const text = emitKaitai(withField(layout, "burst.samples[3]", { min: 1, sentinels: [] }))[0]!.text;
    expect(text).toContain(" : ((samples[3] < 1");
  });

  it("knows the checksums of one polynomial alone", () => {
    expect(() => stepOf("crc32")).toThrow("crc32: no formula for this checksum");
    expect(stepOf("air")).toBe(stepOf("seal"));
  });

  it("has one message a type", () => {
    const messages = [...layout.messages, layout.messages[0]!];
    expect(() => emitKaitai({ ...layout, messages })).toThrow("two messages have one type");
  });

  it("is YAML in which no text means anything but itself", () => {
    const value = { "ks-version": 'say "no"', 7: [{ id: "yes", on: true }, "- x"], "Not plain": { deep: { n: -1 } } };
    expect(toYaml(value)).toBe(`7:
  - id: "yes"
    on: true
  - "- x"
ks-version: "say \\"no\\""
"Not plain":
  deep:
    n: -1
`);
  });
});
