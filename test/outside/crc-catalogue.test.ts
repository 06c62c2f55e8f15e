/**
 * Every parameter set against its check value: the CRC of the ASCII digits "123456789".
 * Source: catalogue of parametrised CRC algorithms, reveng.sourceforge.io/crc-catalogue.
 */
import { describe, expect, it } from "vitest";
import { airCrc, bitCrc, queryCrc } from "../../protocol/bytes/bit-crc.ts";
import { type CrcParameters, makeChecksum } from "../../protocol/bytes/crc.ts";
import { checksums } from "../../protocol/model/checksums.ts";

const message = Uint8Array.from("123456789", (character) => character.charCodeAt(0));

type Row = [
  name: string,
  width: 16 | 32,
  poly: number,
  init: number,
  reflected: boolean,
  xorout: number,
  check: number,
];

const catalogue: Row[] = [
  ["CRC-16/GENIBUS", 16, 0x1021, 0xffff, false, 0xffff, 0xd64e],
  ["CRC-16/IBM-3740", 16, 0x1021, 0xffff, false, 0x0000, 0x29b1],
  ["CRC-16/XMODEM", 16, 0x1021, 0x0000, false, 0x0000, 0x31c3],
  ["CRC-16/KERMIT", 16, 0x1021, 0x0000, true, 0x0000, 0x2189],
  ["CRC-16/IBM-SDLC", 16, 0x1021, 0xffff, true, 0xffff, 0x906e],
  ["CRC-16/MCRF4XX", 16, 0x1021, 0xffff, true, 0x0000, 0x6f91],
  ["CRC-16/SPI-FUJITSU", 16, 0x1021, 0x1d0f, false, 0x0000, 0xe5cc],
  ["CRC-16/GSM", 16, 0x1021, 0x0000, false, 0xffff, 0xce3c],
  ["CRC-16/ARC", 16, 0x8005, 0x0000, true, 0x0000, 0xbb3d],
  ["CRC-16/MODBUS", 16, 0x8005, 0xffff, true, 0x0000, 0x4b37],
  ["CRC-16/DNP", 16, 0x3d65, 0x0000, true, 0xffff, 0xea82],
  ["CRC-16/EN-13757", 16, 0x3d65, 0x0000, false, 0xffff, 0xc2b7],
  ["CRC-16/OPENSAFETY-A", 16, 0x5935, 0x0000, false, 0x0000, 0x5d38],
  ["CRC-32/ISO-HDLC", 32, 0x04c11db7, 0xffffffff, true, 0xffffffff, 0xcbf43926],
  ["CRC-32/ISCSI", 32, 0x1edc6f41, 0xffffffff, true, 0xffffffff, 0xe3069283],
  ["CRC-32/MPEG-2", 32, 0x04c11db7, 0xffffffff, false, 0x00000000, 0x0376e6e7],
];

const parametersOf = ([, width, poly, init, reflected, xorout]: Row): CrcParameters => ({
  width,
  poly,
  init,
  reflected,
  xorout,
});

describe("check values of the CRC catalogue", () => {
  it.each(catalogue)("%s", (...row) => {
    const check = row[6];
    expect(makeChecksum(parametersOf(row))(message, 0, message.length)).toBe(check);
  });

  it("looks only at the span it is given", () => {
    const padded = Uint8Array.of(7, ...message, 9);
    for (const row of catalogue) {
      expect(makeChecksum(parametersOf(row))(padded, 1, padded.length - 1)).toBe(row[6]);
    }
  });

  it("CRC-5/EPC-C1G2 and CRC-16/GENIBUS, bit by bit", () => {
    const bits = Array.from(message).flatMap((octet) => Array.from(octet.toString(2).padStart(8, "0"), Number));
    expect(bitCrc(queryCrc, bits)).toBe(0x00);
    expect(bitCrc(airCrc, bits)).toBe(0xd64e);
  });
});

describe("the parameter sets of the specification", () => {
  it("air is CRC-16/GENIBUS, crc32 is CRC-32/ISO-HDLC", () => {
    expect(checksums.air).toMatchObject(parametersOf(catalogue[0]!));
    expect(checksums.crc32).toMatchObject(parametersOf(catalogue[13]!));
  });

  /**
   * The seal's preset is our own, so no catalogue has it. A CRC is affine in its preset: the check value is that of
   * CRC-16/XMODEM with the preset's two bytes XORed onto the message's first two.
   */
  it("seal is CRC-16/XMODEM of the message with its preset folded into the first word", () => {
    const folded = Uint8Array.from(message);
    folded[0]! ^= 0x50;
    folded[1]! ^= 0x4c;
    const xmodem = makeChecksum({ width: 16, poly: 0x1021, init: 0, reflected: false, xorout: 0 });
    expect(makeChecksum(checksums.seal)(message, 0, message.length)).toBe(xmodem(folded, 0, folded.length));
  });
});
