import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { recordInput } from "../../host/replay/record-arbitrary.ts";
import { writeSlice } from "../../protocol/bytes/container.ts";
import { checksumOf, makeDecoder } from "../../protocol/codec/decode.ts";
import { encode, isFault } from "../../protocol/codec/encode.ts";
import { explain } from "../../protocol/codec/explain.ts";
import { decode } from "../../protocol/codec/record.ts";
import { type CompiledRecord, compile } from "../../protocol/model/layout.ts";
import { type Fault, reasons, sentence } from "../../protocol/model/reasons.ts";
import { specification } from "../../protocol/spec/plyframe.ts";

const { records } = compile(specification);

/** Bytes of a record from an input the specification allows; throws when the encoder refuses it. */
function encoded(record: CompiledRecord, input: { values: object; tails: object }): Uint8Array {
  const bytes = encode(record, input.values as never, input.tails as never);
  if (isFault(bytes)) throw new Error(sentence(bytes));
  return bytes;
}

/** Makes the checksum of a damaged record fit again, so that the fields behind it are judged too. */
function reseal(record: CompiledRecord, bytes: Uint8Array): void {
  for (const field of record.fields) {
    if (field.type !== "checksum" || bytes.length < record.bytes) continue;
    writeSlice(bytes, 0, field, checksumOf(field.algorithm!, bytes, field.over![0], field.over![1] + 1));
  }
}

function expectFault(fault: Fault, length: number): void {
  expect(reasons).toHaveProperty([fault.code]);
  expect(fault.byte).toBeGreaterThanOrEqual(0);
  expect(fault.byte).toBeLessThanOrEqual(length);
  expect(fault.path).not.toBe("");
  expect(fault.expected).not.toBe(fault.actual);
}

/** Arbitrary bytes about the length of the record, and good records with a few bytes changed and sealed again or not. */
function troublesomeBytes(record: CompiledRecord): fc.Arbitrary<Uint8Array> {
  const random = fc.uint8Array({ maxLength: record.bytes + 4 });
  const exact = fc.uint8Array({ minLength: record.bytes, maxLength: record.bytes });
  const damaged = fc
    .record({
      input: recordInput(record),
      changes: fc.array(fc.tuple(fc.nat(), fc.integer({ min: 0, max: 255 })), { maxLength: 3 }),
      cut: fc.option(fc.nat({ max: record.bytes }), { freq: 8 }),
      seal: fc.boolean(),
    })
    .map(({ input, changes, cut, seal }) => {
      const bytes = encoded(record, input);
      for (const [place, value] of changes) if (bytes.length > 0) bytes[place % bytes.length] = value;
      if (seal) reseal(record, bytes);
      return cut === null ? bytes : bytes.slice(0, cut);
    });
  return fc.oneof(random, exact, { weight: 4, arbitrary: damaged });
}

describe.each(records)("$id", (record) => {
  it("comes back from its bytes as it went in, anywhere in an array", () => {
    fc.assert(
      fc.property(recordInput(record), fc.nat({ max: 5 }), (input, before) => {
        const bytes = encoded(record, input);
        const array = new Uint8Array(before + bytes.length + 3).fill(0xa5);
        array.set(bytes, before);
        const decoded = decode(record, array, before, before + bytes.length);
        if (isFault(decoded)) throw new Error(sentence(decoded));
        record.fields.forEach((field, index) => {
          if (field.type === "reserved") expect(decoded.raws[index]).toBe(0);
          else if (field.type === "constant") expect(decoded.raws[index]).toBe(field.raw);
          else if (field.type !== "checksum") expect(decoded.raws[index]).toBe(input.values[field.id]);
        });
        expect(decoded.tails).toEqual(input.tails);
      }),
    );
  });

  it("is either rejected with a place and a reason or encodes to the same bytes again", () => {
    fc.assert(
      fc.property(troublesomeBytes(record), (bytes) => {
        const decoded = decode(record, bytes);
        if (isFault(decoded)) {
          expectFault(decoded, bytes.length);
        } else {
          const values = Object.fromEntries(record.fields.map((field, index) => [field.id, decoded.raws[index]!]));
          expect(encode(record, values, decoded.tails)).toEqual(bytes);
        }
      }),
    );
  });

  it("explains what it decodes", () => {
    fc.assert(
      fc.property(troublesomeBytes(record), (bytes) => {
        const decoded = decode(record, bytes);
        const explained = explain(record, bytes);
        expect(explained.fault).toEqual(isFault(decoded) ? decoded : null);
        const arrived = record.fields.filter((field) => field.byte + field.bytes <= bytes.length);
        expect(explained.fields.map(({ field }) => field)).toEqual(arrived);
        expect(explained.missing).toEqual(record.fields.filter((f) => !arrived.includes(f)).map(({ id }) => id));
        if (isFault(decoded)) {
          const blamed = explained.fields.find(({ field }) => decoded.path.startsWith(field.path));
          if (blamed && decoded.code !== "count-mismatch") expect(blamed.reason).toBe(decoded.code);
        } else {
          expect(explained.fields.map(({ raw }) => raw)).toEqual(Array.from(decoded.raws));
          expect(explained.fields.every(({ reason }) => reason === null)).toBe(true);
        }
      }),
    );
  });

  it("writes the same numbers into any array the caller owns", () => {
    const plain = makeDecoder(record);
    fc.assert(
      fc.property(recordInput(record), (input) => {
        const bytes = encoded(record, input);
        const wide = new Float64Array(record.fields.length);
        const list: number[] = new Array(record.fields.length).fill(-1);
        expect(plain(bytes, 0, bytes.length, wide)).toBe(0);
        expect(plain(bytes, 0, bytes.length, list)).toBe(0);
        expect(list).toEqual(Array.from(wide));
      }),
    );
  });
});
