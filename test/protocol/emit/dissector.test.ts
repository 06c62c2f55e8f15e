/** What the Wireshark dissector's tables say where the specification is another, written out by hand. */
import { expect, it } from "vitest";
import { emitDissector } from "../../../protocol/emit/dissector/dissector.ts";
import { type CompiledField, compile } from "../../../protocol/model/layout.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { withField } from "../../support/changed-layout.ts";

const layout = compile(specification);

const changed = (change: Partial<CompiledField>) => emitDissector(withField(layout, "frame.uptime", change))[0]!.text;

/** The row of the frame's uptime. */
const row = (change: Partial<CompiledField>) =>
  changed(change)
    .split("\n")
    .find((line) => line.includes('id = "uptime"'))!
    .trim();

it("keeps quotes, backslashes and line ends within a text of Lua", () => {
  expect(row({ why: 'a "b" \\ c\nd' })).toMatch(/, why = "a \\"b\\" \\\\ c\\nd" },$/);
});

it("says the order of bytes and the sign only where they are not the usual ones", () => {
  const usual = row({});
  expect(usual).toContain("shift = 0, width = 20, type = ");
  expect(row({ little: true })).toContain("width = 20, little = true, type = ");
  expect(row({ signed: true })).toContain("width = 20, signed = true, type = ");
});

it.each([
  ["is itself", { num: 1, den: 1, add: 0 }, false],
  ["has a factor", { num: 2, den: 1, add: 0 }, true],
  ["has a divisor", { num: 1, den: 2, add: 0 }, true],
  ["has a summand", { num: 1, den: 1, add: 2 }, true],
])("marks a number that %s", (_, scale, isScaled) => {
  expect(row(scale).includes("scaled = true")).toBe(isScaled);
});

it("has a unit and special values only where there are some", () => {
  expect(row({ unit: "1", sentinels: [] })).not.toMatch(/unit|sentinels/);
  const sentinels = [
    { raw: 8, id: "above", means: "saturated" },
    { raw: 9, id: "away", means: "absent" },
  ] as const;
  expect(row({ unit: "Pa", sentinels })).toContain(
    'unit = "Pa", sentinels = { [8] = { id = "above", means = "saturated" }, [9] = { id = "away", means = "absent" } }',
  );
});

it("takes a checksum of 16 bits, most significant bit first, and no other", () => {
  expect(() => changed({ algorithm: "crc32" })).toThrow("crc32: not a checksum of the dissector");
});
