import { describe, expect, it } from "vitest";
import { parseDump } from "../../../host/dump/hex-dump.ts";
import { bytesBeyond, guessedWord, placedParts } from "../../../host/dump/placed-parts.ts";

describe("a pasted dump", () => {
  it("is taken without its addresses, text column, prefixes and separators", () => {
    expect([...(parseDump("00000000: 2101 0007  |!...|\n0x00000004: 0x00 0xC5\n7a:31\n") as Uint8Array)]).toEqual([
      0x21, 0x01, 0x00, 0x07, 0x00, 0xc5, 0x7a, 0x31,
    ]);
  });

  it("has a fault at its line, its character, and its place in the whole text", () => {
    const text = "2101 0007\r\n00000010: 00c5 7x31\n0bd3";
    const fault = parseDump(text);
    expect(fault).toMatchObject({ code: "hex-bad-digit", line: 2, character: 17, actual: "x" });
    expect(text[(fault as { place: number }).place]).toBe("x");
    const odd = "2101\n000";
    const short = parseDump(odd);
    expect(short).toMatchObject({ code: "hex-odd-length", line: 2, character: 3 });
    expect((short as { place: number }).place).toBe(7);
  });

  it("of nothing is nothing", () => {
    expect(parseDump(" \n\n")).toHaveLength(0);
  });
});

describe("records in a dump", () => {
  // Kinds and places from protocol/MEMORY-MAP.md.
  it("are found by the kind in the first word", () => {
    const words = ["0011", "2101", "3101", "4120", "5100"].map((hex) => parseDump(hex) as Uint8Array);
    expect(words.map(guessedWord)).toEqual([0, 8, 24, 40, 72]);
    expect([guessedWord(Uint8Array.of(0xff, 0xff)), guessedWord(Uint8Array.of(0x00, 0x20))]).toEqual([null, null]);
  });

  it("lie where the bank has them, the last one as far as it came", () => {
    const parts = placedParts(36, 8);
    expect(parts.map(({ region, word, at, end }) => [region, word, at, end])).toEqual([
      ["slot_a", 8, 0, 16],
      ["slot_b", 16, 16, 32],
      ["counters_a", 24, 32, 36],
    ]);
  });

  it("end with the bank: 104 words", () => {
    expect([bytesBeyond(208, 0), bytesBeyond(209, 0), bytesBeyond(64, 72), bytesBeyond(70, 72)]).toEqual([0, 1, 0, 6]);
  });
});
