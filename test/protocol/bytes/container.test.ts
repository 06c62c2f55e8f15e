import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CompiledSlice, readSlice, writeSlice } from "../../../protocol/bytes/container.ts";
import { makeSlicesReader } from "../../../protocol/bytes/slices.ts";

const slice = (more: Partial<CompiledSlice>): CompiledSlice => ({
  byte: 0,
  bytes: 2,
  little: false,
  shift: 0,
  width: 16,
  signed: false,
  ...more,
});

const anySlice = fc
  .record({
    byte: fc.nat({ max: 5 }),
    bytes: fc.constantFrom(1, 2, 4, 8),
    little: fc.boolean(),
    signed: fc.boolean(),
    a: fc.nat({ max: 63 }),
    b: fc.nat({ max: 63 }),
  })
  .map(({ byte, bytes, little, signed, a, b }): CompiledSlice => {
    const [low, high] = [Math.min(a, b) % (8 * bytes), Math.max(a, b) % (8 * bytes)].sort((x, y) => x - y) as [
      number,
      number,
    ];
    return { byte, bytes, little, signed, shift: low, width: Math.min(high - low + 1, 53) };
  });

/** The whole container as a number, by Node's own reading of integers. */
function containerOf(bytes: Uint8Array, { byte, bytes: size, little }: CompiledSlice): bigint {
  const part = Buffer.from(bytes.slice(byte, byte + size));
  return BigInt(`0x${(little ? part.reverse() : part).toString("hex")}`);
}

describe("a slice of a container word", () => {
  // Bytes 34 12 as a little-endian word are 1234h: the low four bits are 4h, the other twelve 123h.
  it("is cut from the word, not from a run of bits", () => {
    const bytes = [0x34, 0x12];
    expect(readSlice(bytes, 0, slice({ little: true, shift: 0, width: 4 }))).toBe(0x4);
    expect(readSlice(bytes, 0, slice({ little: true, shift: 4, width: 12 }))).toBe(0x123);
    expect(readSlice(bytes, 0, slice({ shift: 0, width: 4 }))).toBe(0x2);
    expect(readSlice(bytes, 0, slice({ shift: 4, width: 12 }))).toBe(0x341);
  });

  it("is signed where it says so", () => {
    expect(readSlice([0x00, 0x80], 0, slice({ shift: 4, width: 4, signed: true }))).toBe(-8);
    expect(readSlice([0x80, 0, 0, 0], 0, slice({ bytes: 4, width: 32, signed: true }))).toBe(-2147483648);
    expect(readSlice([0x80, 0, 0, 0], 0, slice({ bytes: 4, width: 32 }))).toBe(2147483648);
  });

  it("reads what BigInt reads", () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 14, maxLength: 14 }), anySlice, (bytes, s) => {
        const raw = (containerOf(bytes, s) >> BigInt(s.shift)) & ((1n << BigInt(s.width)) - 1n);
        expect(readSlice(bytes, 0, s)).toBe(Number(s.signed ? BigInt.asIntN(s.width, raw) : raw));
      }),
      { numRuns: 2000 },
    );
  });

  it("takes back what was written and leaves the other bits alone", () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 16, maxLength: 16 }), anySlice, fc.bigInt(), (bytes, s, any) => {
        const raw = Number(s.signed ? BigInt.asIntN(s.width, any) : BigInt.asUintN(s.width, any));
        const written = Uint8Array.from(bytes);
        writeSlice(written, 2, s, raw);
        expect(readSlice(written, 2, s)).toBe(raw);
        const mask = ((1n << BigInt(s.width)) - 1n) << BigInt(s.shift);
        const place = { ...s, byte: s.byte + 2 };
        expect(containerOf(written, place) & ~mask).toBe(containerOf(bytes, place) & ~mask);
        expect([...written.slice(0, place.byte), ...written.slice(place.byte + s.bytes)]).toEqual([
          ...bytes.slice(0, place.byte),
          ...bytes.slice(place.byte + s.bytes),
        ]);
      }),
      { numRuns: 2000 },
    );
  });

  it("is read the same one by one and all in one pass", () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ minLength: 16, maxLength: 16 }),
        fc.array(anySlice, { maxLength: 8 }),
        fc.nat({ max: 2 }),
        (bytes, slices, at) => {
          // Doubled, so that a slice often follows one of the same container.
          const all = slices.flatMap((s) => [s, { ...s, shift: 0, width: 1 }]);
          const raws = new Float64Array(all.length);
          makeSlicesReader(all)(bytes, at, raws);
          expect(Array.from(raws)).toEqual(all.map((s) => readSlice(bytes, at, s)));
        },
      ),
      { numRuns: 2000 },
    );
  });
});
