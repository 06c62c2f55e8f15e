/** Checksums of the Gen2 air interface and the tag's EPC bank against the standard's own table. */
import { describe, expect, it } from "vitest";
import { airCrc, type BitCrcParameters, bitCrc, queryCrc } from "../../protocol/bytes/bit-crc.ts";
import { epcWordCount, storedCrc } from "../../protocol/epc/pc.ts";

const bitsOf = (text: string) => Array.from(text, Number);

describe("StoredCRC, table of GS1 EPC UHF Gen2 (annex on CRC calculation)", () => {
  const words = [0x1111, 0x2222, 0x3333, 0x4444, 0x5555, 0x6666];
  const expected = [0xe2f0, 0xccae, 0x968f, 0x78f6, 0xc241, 0x2a91, 0x1835];

  it.each(expected.map((crc, count) => ({ count, pc: count << 11, crc })))(
    "$count words of EPC",
    ({ count, pc, crc }) => {
      expect(storedCrc(pc, words.slice(0, count))).toBe(crc);
      expect(epcWordCount(pc)).toBe(count);
    },
  );
});

/**
 * Layouts of commands and replies: GS1 EPC UHF Gen2 2.1, from memory. The checksums were computed bit by bit by a separate
 * program from the same layouts, so a row shows that two programs agree on the standard's parameters; the fields'
 * meaning is not what is judged here.
 */
const frames: { name: string; bits: string; crc: number; parameters: BitCrcParameters }[] = [
  { name: "Query, Q 0", bits: "1000000000000000010000", crc: 0x10, parameters: queryCrc },
  { name: "Query, Q 4", bits: "1000000000000010011101", crc: 0x1d, parameters: queryCrc },
  { name: "Query, Miller 4, S1", bits: "1000110100010010011001", crc: 0x19, parameters: queryCrc },
  { name: "Query, Miller 8, S2, Q 15", bits: "1000111111101111110100", crc: 0x14, parameters: queryCrc },
  { name: "Req_RN", bits: "1100000100010010001101000011000101100010", crc: 0x3162, parameters: airCrc },
  {
    name: "Read, pointer 0",
    bits: "1100001011000000000000010010101011110011011000110001110101",
    crc: 0x8c75,
    parameters: airCrc,
  },
  {
    name: "Read, pointer 128",
    bits: "110000101110000001000000000000000110101011110011011010101001001011",
    crc: 0xaa4b,
    parameters: airCrc,
  },
  {
    name: "Write",
    bits: "110000111100000010010001110110100110101011110011010110110110010011",
    crc: 0x6d93,
    parameters: airCrc,
  },
  {
    name: "Select",
    bits: "1010100000010010000000010000001100000110011000001100010001011",
    crc: 0x188b,
    parameters: airCrc,
  },
  {
    name: "reply to Read",
    bits: "0101111101110111110101011110011011111000010110000",
    crc: 0xf0b0,
    parameters: airCrc,
  },
  { name: "delayed reply", bits: "010101011110011010000110010000100", crc: 0x0c84, parameters: airCrc },
  { name: "error reply", bits: "10000010010101011110011010001010111110111", crc: 0x15f7, parameters: airCrc },
];

describe("checksums of Gen2 commands and replies", () => {
  it.each(frames)("$name", ({ bits, crc, parameters }) => {
    const { width } = parameters;
    expect(bitCrc(parameters, bitsOf(bits.slice(0, -width)))).toBe(crc);
    expect(bits.slice(-width)).toBe(crc.toString(2).padStart(width, "0"));
  });

  // Gen2, from memory, and the CRC catalogue: residue 1D0Fh for the CRC-16, zero for the CRC-5.
  it.each(frames)("$name leaves the residue the standard names", ({ bits, parameters }) => {
    const residue = bitCrc({ ...parameters, xorout: 0 }, bitsOf(bits));
    expect(residue).toBe(parameters.width === 16 ? 0x1d0f : 0);
  });
});
