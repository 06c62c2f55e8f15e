/** Our tables against the `crc` package, over random bytes. */
import crc16 from "crc/calculators/crc16";
import crc16ccitt from "crc/calculators/crc16ccitt";
import crc16kermit from "crc/calculators/crc16kermit";
import crc16modbus from "crc/calculators/crc16modbus";
import crc16xmodem from "crc/calculators/crc16xmodem";
import crc32 from "crc/calculators/crc32";
import crc32mpeg2 from "crc/calculators/crc32mpeg2";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CrcParameters, makeChecksum } from "../../protocol/bytes/crc.ts";
import { checksums } from "../../protocol/model/checksums.ts";

const row = (width: 16 | 32, poly: number, init: number, reflected: boolean, xorout: number): CrcParameters => ({
  width,
  poly,
  init,
  reflected,
  xorout,
});

const pairs: { name: string; ours: CrcParameters; theirs: (bytes: Uint8Array) => number }[] = [
  // The package's crc16ccitt is the catalogue's IBM-3740 and takes another preset as its second argument.
  { name: "seal", ours: checksums.seal, theirs: (bytes) => crc16ccitt(bytes, 0x504c) },
  { name: "air", ours: checksums.air, theirs: (bytes) => crc16ccitt(bytes) ^ 0xffff },
  { name: "crc32", ours: checksums.crc32, theirs: (bytes) => crc32(bytes) },
  { name: "IBM-3740", ours: row(16, 0x1021, 0xffff, false, 0), theirs: (bytes) => crc16ccitt(bytes) },
  { name: "XMODEM", ours: row(16, 0x1021, 0, false, 0), theirs: (bytes) => crc16xmodem(bytes) },
  { name: "KERMIT", ours: row(16, 0x1021, 0, true, 0), theirs: (bytes) => crc16kermit(bytes) },
  { name: "ARC", ours: row(16, 0x8005, 0, true, 0), theirs: (bytes) => crc16(bytes) },
  { name: "MODBUS", ours: row(16, 0x8005, 0xffff, true, 0), theirs: (bytes) => crc16modbus(bytes) },
  { name: "MPEG-2", ours: row(32, 0x04c11db7, 0xffffffff, false, 0), theirs: (bytes) => crc32mpeg2(bytes) },
];

describe("our checksum tables and the crc package", () => {
  it.each(pairs)("agree on $name", ({ ours, theirs }) => {
    const checksum = makeChecksum(ours);
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 80 }), (bytes) => {
        expect(checksum(bytes, 0, bytes.length)).toBe(theirs(bytes) >>> 0);
      }),
      { numRuns: 500 },
    );
  });
});
