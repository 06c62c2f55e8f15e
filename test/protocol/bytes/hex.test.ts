import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatHex, formatWords, parseHex } from "../../../protocol/bytes/hex.ts";

describe("parseHex", () => {
  it.each([
    ["", []],
    ["00ff", [0x00, 0xff]],
    ["DEADbeef", [0xde, 0xad, 0xbe, 0xef]],
    ["2101 0102\n00c5:e6-80, 0e", [0x21, 0x01, 0x01, 0x02, 0x00, 0xc5, 0xe6, 0x80, 0x0e]],
    ["  a b ", [0xab]],
    // The first and the last of the control characters that are white space.
    ["\t01\r\n02", [0x01, 0x02]],
  ])("%j", (text, bytes) => {
    expect(parseHex(text)).toEqual(Uint8Array.from(bytes));
  });

  it.each([
    ["abc", { code: "hex-odd-length", place: 2, actual: "3 digits" }],
    ["a ", { code: "hex-odd-length", place: 0, actual: "1 digits" }],
    // Buffer.from(text, "hex") stops here without a word.
    ["01zz02", { code: "hex-bad-digit", place: 2, actual: "z" }],
    ["0x12", { code: "hex-bad-digit", place: 1, actual: "x" }],
    ["12\u00e9", { code: "hex-bad-digit", place: 2, actual: "\u00e9" }],
    // Each lies just outside the digits or letters, or is one when its case bit is changed.
    ["0/", { code: "hex-bad-digit", place: 1, actual: "/" }],
    ["0;", { code: "hex-bad-digit", place: 1, actual: ";" }],
    ["0@", { code: "hex-bad-digit", place: 1, actual: "@" }],
    ["0G", { code: "hex-bad-digit", place: 1, actual: "G" }],
    ["0`", { code: "hex-bad-digit", place: 1, actual: "`" }],
    ["0g", { code: "hex-bad-digit", place: 1, actual: "g" }],
    ["0!", { code: "hex-bad-digit", place: 1, actual: "!" }],
    ["0\u0001", { code: "hex-bad-digit", place: 1, actual: "\u0001" }],
    ["0\u0011", { code: "hex-bad-digit", place: 1, actual: "\u0011" }],
  ])("refuses %j", (text, fault) => {
    expect(parseHex(text)).toEqual(fault);
  });

  it("reads back what formatHex writes, with the bytes of Buffer", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 40 }), (bytes) => {
        expect(formatHex(bytes)).toBe(Buffer.from(bytes).toString("hex"));
        expect(parseHex(formatHex(bytes))).toEqual(bytes);
        expect(parseHex(formatWords(bytes).toUpperCase())).toEqual(bytes);
      }),
    );
  });
});

describe("formatHex and formatWords", () => {
  it("show a part", () => {
    expect(formatHex([1, 0xab, 0xcd, 4], 1, 3)).toBe("abcd");
    expect(formatWords([1, 2, 3, 4, 5])).toBe("0102 0304 05");
    expect(formatWords([1, 2, 3, 4, 5], 1, 4)).toBe("0203 04");
    expect(formatWords([1, 2, 3, 4])).toBe("0102 0304");
    expect(formatWords([])).toBe("");
  });
});
