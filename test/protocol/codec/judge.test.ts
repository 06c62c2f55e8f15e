/** What is allowed of one raw value, for every type of field; the ranges are those of protocol/MEMORY-MAP.md. */
import { describe, expect, it } from "vitest";
import { allowedRun, isAlwaysAllowed, judge } from "../../../protocol/codec/judge.ts";
import { layout } from "../../../protocol/index.ts";
import { fieldIndex, recordOf } from "../../../protocol/model/layout.ts";
import { reasons } from "../../../protocol/model/reasons.ts";

function fieldOf(path: string) {
  const [id, field] = path.split(".") as [string, string];
  const record = recordOf(layout, id);
  return record.fields[fieldIndex(record, field)]!;
}

describe("a field's run of allowed values", () => {
  it.each([
    ["frame.sequence", 0, 65_535, true],
    ["frame.pressure", 3_328_000, 16_128_000, false], // its sentinel is not next to the range
    ["frame.temperature", -4000, 12_500, false],
    ["frame.supply", 0, 4095, true], // 0 to 4094, and 4095 is not_measured
    ["frame.uptime", 0, 1_048_575, true], // 0 to 1048574, and 1048575 is saturated
    ["header.fingerprint", 0, 4_294_967_295, true],
    ["welcome.power_low", -32_768, 32_767, true],
    ["frame.status", 0, 255, true], // all 8 bits are named
    ["welcome.capabilities", 0, 0, false], // 6 of 16 bits are named
    ["frame.reserved", 0, 0, false],
    ["read.bank", 0, 0, false], // the first of four names
    ["set_channel_plan.plan", 1, 1, false],
    ["frame.kind", 2, 2, false],
    ["frame.seal", 0, 65_535, true],
  ])("%s: %i to %i", (path, first, last, always) => {
    expect(allowedRun(fieldOf(path))).toEqual([first, last]);
    expect(isAlwaysAllowed(fieldOf(path))).toBe(always);
  });
});

describe("judge", () => {
  it.each([
    ["frame.pressure", [3_328_000, 16_128_000, 16_777_215], [3_327_999, 16_128_001, 16_777_214], "value-out-of-range"],
    ["frame.temperature", [-4000, 12_500, -32_768], [-4001, 12_501], "value-out-of-range"],
    ["welcome.capabilities", [0, 0x3f, 0x21], [0x40, 0x8000, 0x7f], "reserved-bit-set"],
    ["frame.reserved", [0], [1, 255], "reserved-bit-set"],
    ["read.bank", [0, 1, 2, 3], [4, 255], "name-unknown"],
    ["frame.kind", [2], [0, 1, 3], "kind-unexpected"],
    ["frame.layout", [1], [0, 2], "layout-unknown"],
    ["header.dsfid", [0], [1], "marker-mismatch"],
  ] as const)("%s allows %j and not %j", (path, allowed, refused, reason) => {
    for (const raw of allowed) expect(judge(fieldOf(path), raw)).toBe(0);
    for (const raw of refused) expect(judge(fieldOf(path), raw)).toBe(reasons[reason].number);
  });

  it("leaves a checksum to whoever has the bytes", () => {
    expect(judge(fieldOf("frame.seal"), 0x1234)).toBe(0);
  });
});
