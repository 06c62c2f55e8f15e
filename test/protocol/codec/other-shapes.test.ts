/**
 * Records of rarer shapes: a seal in front of what it covers, no kind, flags above other bits.
 * Seals by Python's binascii.crc_hqx with preset 504Ch.
 */
import { describe, expect, it } from "vitest";
import { parseHex } from "../../../protocol/bytes/hex.ts";
import { explain } from "../../../protocol/codec/explain.ts";
import { decode } from "../../../protocol/codec/record.ts";
import { layout } from "../../../protocol/index.ts";
import { compile, recordOf } from "../../../protocol/model/layout.ts";
import { type Bent, bent, fieldOf } from "../../support/small-specification.ts";

const bytesOf = (hex: string) => parseHex(hex) as Uint8Array;

/** Two bytes of seal, then the two it covers. */
function sealInFront(s: Bent): void {
  const seal = { ...fieldOf(s, "seal"), at: 0, over: [2, 3] };
  const number = { ...s.records[1].fields[0], at: 2, container: 16, bits: [15, 0], range: [0, 65_535] };
  s.records.push({ ...s.records[1], id: "front", bytes: 4, tails: [], fields: [seal, number] });
}

describe("a seal in front of what it covers", () => {
  const front = () => recordOf(compile(bent(sealInFront)), "front");
  const good = "2e21 a1b2";

  it("is checked over its own span, wherever the record begins", () => {
    expect(decode(front(), bytesOf(`ff ${good}`), 1)).toMatchObject({ raws: Float64Array.of(0x2e21, 0xa1b2) });
    expect(decode(front(), bytesOf("ff 2e22 a1b2"), 1)).toMatchObject({
      code: "checksum-mismatch",
      byte: 0,
      expected: "0x2e21",
      actual: "0x2e22",
    });
    expect(explain(front(), bytesOf(`ff ${good}`), 1).fields.map(({ reason }) => reason)).toEqual([null, null]);
  });

  it("is not judged while what it covers has not arrived", () => {
    const short = explain(front(), bytesOf("2e22 a1"));
    expect(short.fields.map(({ field, reason }) => `${field.id} ${reason}`)).toEqual(["seal null"]);
    expect(short.missing).toEqual(["count"]);
  });
});

describe("zeros in a record without a kind", () => {
  it("are values, and never say that nothing was written", () => {
    expect(decode({ ...recordOf(layout, "set_power") }, bytesOf("0000"))).toMatchObject({ raws: Float64Array.of(0) });
  });
});

describe("flags above other bits", () => {
  const lifted = (s: Bent) => {
    fieldOf(s, "status").bits = [7, 2];
    s.records[0].fields.push({ ...fieldOf(s, "spare"), id: "below", at: 0, bits: [1, 0] });
  };

  it("are named by their bit in the field, and placed by their bit in the container", () => {
    const sample = recordOf(compile(bent(lifted)), "sample");
    // 2110: kind 2, layout 1, status 4 (its bit 2, which has no name) above two spare bits · mode 1, run 2, 3.
    expect(decode(sample, bytesOf("2110 0005 0001 0203 0d45"))).toEqual({
      code: "reserved-bit-set",
      byte: 0,
      bit: 4,
      path: "sample.status.bit_2",
      expected: "only bits of 0x03",
      actual: "0x04",
    });
  });
});
