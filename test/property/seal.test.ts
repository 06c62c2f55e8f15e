/** What protocol/SEAL.md says of the seal, held against the checksum functions and against counting by brute force. */
import { readFileSync } from "node:fs";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checksumOf } from "../../protocol/codec/decode.ts";
import { isFault } from "../../protocol/codec/encode.ts";
import { decode } from "../../protocol/codec/record.ts";
import { compile } from "../../protocol/model/layout.ts";
import { specification } from "../../protocol/spec/plyframe.ts";
import { ones, order, syndromes, undetected } from "../bench/crc-weights.ts";
import { sealReport } from "../bench/seal.ts";

const layout = compile(specification);
const sealed = layout.records.filter(({ fields }) => fields.some(({ role }) => role === "kind"));

/** Data with a checksum behind it, two bytes, big-endian. */
function block(id: "air" | "seal", data: Uint8Array): Uint8Array {
  const sum = checksumOf(id, data, 0, data.length);
  return Uint8Array.of(...data, sum >> 8, sum & 0xff);
}

function holds(id: "air" | "seal", bytes: Uint8Array): boolean {
  const end = bytes.length - 2;
  return checksumOf(id, bytes, 0, end) === bytes[end]! * 256 + bytes[end + 1]!;
}

const weight = (bytes: Uint8Array) => bytes.reduce((sum, byte) => sum + ones(byte), 0);

/** Words in another order. */
function shuffled(bytes: Uint8Array, keys: readonly number[]): Uint8Array {
  const words = Array.from({ length: bytes.length / 2 }, (_, i) => bytes.subarray(2 * i, 2 * i + 2));
  const order = words.map((word, i) => ({ word, key: keys[i % keys.length]! })).sort((a, b) => a.key - b.key);
  return Uint8Array.from(order.flatMap(({ word }) => [...word]));
}

describe("a block valid on the air", () => {
  it("is never sealed, nor the other way round: every one of the 65 536 blocks of one word", () => {
    for (let word = 0; word < 65_536; word++) {
      const data = Uint8Array.of(word >> 8, word & 0xff);
      if (holds("seal", block("air", data)) || holds("air", block("seal", data))) expect.fail(`word ${word}`);
    }
  });

  it("is never sealed at any length, in any order of its words", () => {
    const data = fc.uint8Array({ minLength: 2, maxLength: 70 }).map((bytes) => bytes.subarray(0, bytes.length & ~1));
    const keys = fc.array(fc.nat(1000), { minLength: 36, maxLength: 36 });
    fc.assert(
      fc.property(data, keys, (bytes, order) => {
        const air = block("air", bytes);
        expect(weight(air) % 2).toBe(0);
        expect(holds("seal", air)).toBe(false);
        expect(holds("seal", shuffled(air, order))).toBe(false);
        const ours = block("seal", bytes);
        expect(weight(ours) % 2).toBe(1);
        expect(holds("air", ours)).toBe(false);
        expect(holds("air", shuffled(ours, order))).toBe(false);
      }),
      { numRuns: 2000 },
    );
  });
});

describe.each(sealed)("$id", (record) => {
  it("is not what empty or erased memory looks like", () => {
    expect(decode(record, new Uint8Array(record.bytes))).toMatchObject({ code: "record-empty" });
    expect(decode(record, new Uint8Array(record.bytes).fill(0xff))).toMatchObject({ code: "checksum-mismatch" });
    const field = record.fields.find(({ type }) => type === "checksum")!;
    const [from, to] = [field.over![0], field.over![1] + 1];
    expect(checksumOf("seal", new Uint8Array(record.bytes), from, to)).not.toBe(0);
    expect([0, 15]).not.toContain(record.fields.find(({ role }) => role === "kind")!.raw);
  });

  it("seals every word before the last", () => {
    const field = record.fields.find(({ type }) => type === "checksum")!;
    expect(field.over).toEqual([0, record.bytes - 3]);
    expect(isFault(decode(record, new Uint8Array(record.bytes).fill(1)))).toBe(true);
  });
});

describe("the figures of the page", () => {
  it("are what the report prints", () => {
    const page = readFileSync(new URL("../../protocol/SEAL.md", import.meta.url), "utf8");
    expect(/```text seal-report\n([\s\S]*?)\n```/.exec(page)![1]).toBe(sealReport());
  });

  it.each([0x1021, 0x3d65])("agree with counting every pattern of up to four errors, polynomial %i", (poly) => {
    for (const bits of [20, 128, 160]) {
      const list = syndromes(poly, bits);
      let [two, three, four] = [0, 0, 0];
      // Patterns are counted with their members in rising order: the last member is looked up among those still to come.
      for (let a = 0; a < bits; a++) {
        for (let b = a + 1; b < bits; b++) {
          if (list[a] === list[b]) two++;
          for (let c = b + 1; c < bits; c++) {
            const rest = list[a]! ^ list[b]! ^ list[c]!;
            if (rest === 0) three++;
            if (bits <= 128) for (let d = c + 1; d < bits; d++) if (list[d] === rest) four++;
          }
        }
      }
      const counts = undetected(poly, bits, 4).map(Number);
      expect(counts.slice(0, 4)).toEqual([1, 0, two, three]);
      if (bits <= 128) expect(counts[4]).toBe(four);
    }
  });

  it("agree with the published distances (P. Koopman, hd6: 3D65h best to 135 bits; 1021h distance 4 to 32751)", () => {
    expect(order(0x1021) - 16).toBe(32_751);
    expect(order(0x3d65) - 16).toBe(135);
    expect(undetected(0x3d65, 151, 6).map((count) => count > 0n)).toEqual([
      true,
      false,
      false,
      false,
      false,
      false,
      true,
    ]);
    expect(undetected(0x3d65, 152, 2)[2]).toBe(1n);
  });
});
