import { describe, expect, it } from "vitest";
import { formatWords } from "../../../protocol/bytes/hex.ts";
import { encode, isFault, type RawValues } from "../../../protocol/codec/encode.ts";
import { compile, recordOf } from "../../../protocol/model/layout.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";

const layout = compile(specification);
const frame = recordOf(layout, "frame");
const read = recordOf(layout, "read");
const values: RawValues = {
  status: 1,
  sequence: 258,
  pressure: 12_969_600,
  temperature: 3652,
  supply: 1800,
  uptime: 1234,
};

const wordsOf = (answer: ReturnType<typeof encode>) => (isFault(answer) ? answer : formatWords(answer));

describe("encode", () => {
  // The frame of decode.test.ts, put together by hand, its seal by Python's binascii.crc_hqx with preset 504Ch.
  it("writes a frame worked by hand", () => {
    expect(wordsOf(encode(frame, values))).toBe("2101 0102 00c5 e680 0e44 7080 04d2 33d1");
  });

  it("fills in constants, reserved bits and the seal whatever is given", () => {
    const given = { ...values, kind: 7, layout: 3, reserved: 255, seal: 1 };
    expect(encode(frame, given)).toEqual(encode(frame, values));
  });

  it("writes tails behind the fixed part", () => {
    const access = { password: 0, bank: 3, pointer: 8, word_count: 16, epc_words: 2 };
    expect(wordsOf(encode(read, access, { epc: [0x3034, 0x257b] }))).toBe("0000 0000 0300 0810 0230 3425 7b");
  });
});

const without = (id: string) => Object.fromEntries(Object.entries(values).filter(([name]) => name !== id));

describe("encode refuses", () => {
  it.each([
    ["a missing value", without("temperature"), "field-missing", "frame.temperature", 8, 0, "nothing"],
    ["a fraction", { ...values, sequence: 1.5 }, "field-invalid", "frame.sequence", 2, 0, "1.5"],
    ["not a number", { ...values, sequence: Number.NaN }, "field-invalid", "frame.sequence", 2, 0, "NaN"],
    [
      "an infinity",
      { ...values, uptime: Number.POSITIVE_INFINITY },
      "field-invalid",
      "frame.uptime",
      10,
      0,
      "Infinity",
    ],
    ["one more than the range", { ...values, sequence: 65_536 }, "value-out-of-range", "frame.sequence", 2, 0, "65536"],
    ["one less than the range", { ...values, sequence: -1 }, "value-out-of-range", "frame.sequence", 2, 0, "-1"],
    [
      "a value in the gap below a sentinel",
      { ...values, pressure: 16_777_214 },
      "value-out-of-range",
      "frame.pressure",
      4,
      0,
      "16777214",
    ],
    ["a flag outside the field", { ...values, status: 256 }, "reserved-bit-set", "frame.status", 0, 0, "256"],
    ["a negative flag word", { ...values, status: -1 }, "reserved-bit-set", "frame.status", 0, 0, "-1"],
    // Low 32 bits are an allowed flag word: an encoder that looks at those alone would cut the number.
    [
      "a flag word beyond 32 bits",
      { ...values, status: 2 ** 32 + 1 },
      "reserved-bit-set",
      "frame.status",
      0,
      0,
      "4294967297",
    ],
    ["supply in the wrong place", { ...values, supply: 4096 }, "value-out-of-range", "frame.supply", 10, 20, "4096"],
  ] as const)("%s", (_, given, code, path, byte, bit, actual) => {
    expect(encode(frame, given as RawValues)).toMatchObject({ code, path, byte, bit, actual });
  });

  it("and says what would have been right", () => {
    expect(encode(frame, without("supply"))).toMatchObject({ expected: "a raw integer" });
    expect(encode(frame, { ...values, supply: 0.5 })).toMatchObject({ expected: "a raw integer" });
    expect(encode(frame, { ...values, supply: 4096 })).toMatchObject({ expected: "a value the field allows" });
  });

  it("a name outside the list", () => {
    const access = { password: 0, bank: 4, pointer: 8, word_count: 16, epc_words: 0 };
    expect(encode(read, access)).toMatchObject({ code: "name-unknown", path: "read.bank", byte: 4, actual: "4" });
  });

  it("a count that is not the tail's length", () => {
    const access = { password: 0, bank: 3, pointer: 8, word_count: 16, epc_words: 2 };
    expect(encode(read, access, { epc: [1] })).toMatchObject({
      code: "count-mismatch",
      path: "read.epc_words",
      byte: 8,
      expected: "2 elements",
      actual: "1",
    });
    expect(encode(read, access)).toMatchObject({ code: "count-mismatch", actual: "0" });
  });

  it.each([65_536, -1, 0.5])("%d as an element of a tail", (element) => {
    const access = { password: 0, bank: 3, pointer: 8, word_count: 16, epc_words: 2 };
    expect(encode(read, access, { epc: [1, element] })).toMatchObject({
      code: "value-out-of-range",
      path: "read.epc[1]",
      byte: 11,
      expected: "16 bits",
      actual: `${element}`,
    });
  });
});

describe("isFault", () => {
  it("takes code and path for the marks of a fault, and neither alone", () => {
    expect(isFault({ code: "tag-lost", path: "user" })).toBe(true);
    expect(isFault({ code: "hex-bad-digit", place: 3 })).toBe(false);
    expect(isFault({ path: "user" })).toBe(false);
  });
});
