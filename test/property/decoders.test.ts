/** Both decoders, from one specification, agree on everything: verdict, place, expected and actual, raw values, tails. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { recordInput } from "../../host/replay/record-arbitrary.ts";
import { checksumOf } from "../../protocol/codec/decode.ts";
import { encode, isFault } from "../../protocol/codec/encode.ts";
import { decodeWithParser } from "../../protocol/codec/parser.ts";
import { decode } from "../../protocol/codec/record.ts";
import { type CompiledRecord, compile } from "../../protocol/model/layout.ts";
import { specification } from "../../protocol/spec/plyframe.ts";

const { records } = compile(specification);

/** Either decoder's answer as plain data. */
function plain(answer: ReturnType<typeof decode>) {
  return isFault(answer) ? answer : { raws: Array.from(answer.raws), tails: answer.tails };
}

function agree(record: CompiledRecord, bytes: Uint8Array, at = 0, end = bytes.length): string {
  const fast = decode(record, bytes, at, end);
  expect(plain(decodeWithParser(record, bytes, at, end))).toEqual(plain(fast));
  return isFault(fast) ? fast.code : "good";
}

/** Puts the right checksum back, so that what is judged after it is reached. */
function reseal(record: CompiledRecord, bytes: Uint8Array): void {
  for (const field of record.fields) {
    if (field.type !== "checksum" || bytes.length < record.bytes) continue;
    const sum = checksumOf(field.algorithm!, bytes, field.over![0], field.over![1] + 1);
    bytes[field.byte] = sum >> 8;
    bytes[field.byte + 1] = sum & 0xff;
  }
}

describe.each(records)("$id", (record) => {
  const encoded = recordInput(record).map(({ values, tails }) => encode(record, values, tails) as Uint8Array);

  it("arbitrary bytes of arbitrary length", () => {
    const length = { minLength: 0, maxLength: record.bytes + 20 };
    fc.assert(fc.property(fc.uint8Array(length), (bytes) => void agree(record, bytes)));
  });

  it("bytes of the right length, resealed", () => {
    const exact = fc.uint8Array({ minLength: record.bytes, maxLength: record.bytes });
    fc.assert(
      fc.property(exact, (bytes) => {
        reseal(record, bytes);
        agree(record, bytes);
      }),
    );
  });

  it("every record the specification allows, at an offset", () => {
    fc.assert(
      fc.property(encoded, fc.nat(7), fc.nat(7), (bytes, before, after) => {
        const around = new Uint8Array(before + bytes.length + after).fill(0x5a);
        around.set(bytes, before);
        expect(agree(record, around, before, before + bytes.length)).toBe("good");
      }),
    );
  });

  it("records with bytes changed, cut or added, sealed again or not", () => {
    const edits = fc.array(fc.tuple(fc.nat(), fc.nat(255)), { maxLength: 3 });
    fc.assert(
      fc.property(encoded, edits, fc.integer({ min: -3, max: 3 }), fc.boolean(), (bytes, changes, more, sealed) => {
        const copy = new Uint8Array(Math.max(0, bytes.length + more));
        copy.set(bytes.subarray(0, copy.length));
        if (copy.length > 0) for (const [place, value] of changes) copy[place % copy.length] = value;
        if (sealed) reseal(record, copy);
        agree(record, copy);
      }),
    );
  });
});

describe("the bytes above", () => {
  it("reach every verdict a tag record or message can give", () => {
    const seen = new Set<string>();
    for (const record of records) {
      const cases = [
        ...fc.sample(fc.uint8Array({ maxLength: record.bytes + 4 }), { numRuns: 100, seed: 7 }),
        ...fc.sample(fc.uint8Array({ minLength: record.bytes, maxLength: record.bytes }), { numRuns: 400, seed: 7 }),
      ];
      for (const bytes of [...cases, new Uint8Array(record.bytes)]) {
        seen.add(agree(record, bytes));
        reseal(record, bytes);
        seen.add(agree(record, bytes));
        for (const [index, field] of record.fields.entries()) {
          // Kind and layout right, so that the fields behind them are judged.
          if (field.role === undefined || bytes.length < record.bytes) continue;
          expect(record.fields[index]).toBe(field);
          const mask = ((1 << field.width) - 1) << field.shift;
          const container = field.bytes * 8;
          for (let bit = 0; bit < container && container <= 32; bit++) {
            if (!((mask >>> bit) & 1)) continue;
            const at = field.byte + field.bytes - 1 - (bit >> 3);
            const set = (field.raw! >>> (bit - field.shift)) & 1;
            bytes[at] = (bytes[at]! & ~(1 << (bit & 7))) | (set << (bit & 7));
          }
        }
        reseal(record, bytes);
        seen.add(agree(record, bytes));
      }
    }
    expect([...seen].sort()).toEqual(
      [
        "checksum-mismatch",
        "count-mismatch",
        "good",
        "kind-unexpected",
        "layout-unknown",
        "marker-mismatch",
        "name-unknown",
        "record-empty",
        "record-too-short",
        "reserved-bit-set",
        "trailing-bytes",
        "value-out-of-range",
      ].sort(),
    );
  });
});
