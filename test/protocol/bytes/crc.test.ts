import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bitCrc } from "../../../protocol/bytes/bit-crc.ts";
import { makeChecksum } from "../../../protocol/bytes/crc.ts";

const reversed = (value: number, width: number) =>
  Number.parseInt(value.toString(2).padStart(width, "0").split("").reverse().join(""), 2);

/**
 * Remainder of the message polynomial by long division in BigInt: preset XORed onto the first bits, `width` zeros
 * appended, generator subtracted wherever a bit is set.
 */
function longDivision(bits: number[], width: number, poly: number, init: number): number {
  const total = bits.length + width;
  let value = bits.reduce((sum, bit) => (sum << 1n) | BigInt(bit), 0n) << BigInt(width);
  value ^= BigInt(init) << BigInt(total - width);
  const generator = (1n << BigInt(width)) | BigInt(poly);
  for (let i = total - 1; i >= width; i--) {
    if ((value >> BigInt(i)) & 1n) value ^= generator << BigInt(i - width);
  }
  return Number(value);
}

const bitsOf = (bytes: Uint8Array, reflected: boolean) =>
  Array.from(bytes).flatMap((byte) => {
    const bits = Array.from(byte.toString(2).padStart(8, "0"), Number);
    return reflected ? bits.reverse() : bits;
  });

const parameters = fc.constantFrom<16 | 32>(16, 32).chain((width) => {
  const word = fc.integer({ min: 0, max: 2 ** width - 1 });
  return fc.record({
    width: fc.constant(width),
    poly: word.map((poly) => (poly | 1) >>> 0),
    init: word,
    reflected: fc.boolean(),
    xorout: word,
  });
});

describe("makeChecksum", () => {
  it("is the remainder of a long division, for any parameters and any length", () => {
    fc.assert(
      fc.property(parameters, fc.uint8Array({ maxLength: 24 }), (p, bytes) => {
        const rest = longDivision(bitsOf(bytes, p.reflected), p.width, p.poly, p.init);
        const register = p.reflected ? reversed(rest, p.width) : rest;
        expect(makeChecksum(p)(bytes, 0, bytes.length)).toBe((register ^ p.xorout) >>> 0);
      }),
      { numRuns: 1000 },
    );
  });

  it("of nothing is preset and final XOR", () => {
    const checksum = makeChecksum({ width: 16, poly: 0x1021, init: 0x504c, reflected: false, xorout: 0x00ff });
    expect(checksum([1, 2, 3], 2, 2)).toBe(0x50b3);
  });
});

describe("bitCrc", () => {
  it("is the remainder of a long division, for any number of bits", () => {
    const bits = fc.array(fc.integer({ min: 0, max: 1 }), { maxLength: 90 });
    fc.assert(
      fc.property(bits, fc.integer({ min: 1, max: 24 }), fc.nat(), fc.nat(), (message, width, p, i) => {
        const poly = (p % 2 ** width) | 1;
        const init = i % 2 ** width;
        const xorout = 2 ** width - 1;
        const rest = longDivision(message, width, poly, init);
        expect(bitCrc({ width, poly, init, xorout }, message)).toBe(rest ^ xorout);
      }),
      { numRuns: 1000 },
    );
  });
});
