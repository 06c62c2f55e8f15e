/** LLRP's encoder and decoder over the tables, with made-up content and with damage. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decodeLlrp } from "../../protocol/llrp/decode.ts";
import { encodeLlrp } from "../../protocol/llrp/encode.ts";
import { messages } from "../../protocol/llrp/messages.ts";
import { CUSTOM, parameterByName, parameters } from "../../protocol/llrp/parameters.ts";
import { LlrpStream } from "../../protocol/llrp/stream.ts";
import type { LlrpElement, LlrpField, LlrpMessageSpec, LlrpValue, Place } from "../../protocol/llrp/vocabulary.ts";

const hexOf = (bytes: Uint8Array) => Buffer.from(bytes).toString("hex");
const integers = (bits: number) => fc.array(fc.nat(2 ** bits - 1), { maxLength: 4 });

function contentOf({ type, bits }: LlrpField): fc.Arbitrary<LlrpValue> {
  switch (type) {
    case "unsigned":
      return bits === 64 ? fc.bigInt(0n, 2n ** 64n - 1n) : fc.integer({ min: 0, max: 2 ** bits - 1 });
    case "signed":
      return fc.integer({ min: -(2 ** (bits - 1)), max: 2 ** (bits - 1) - 1 });
    case "hex":
      return fc.uint8Array({ minLength: bits / 8, maxLength: bits / 8 }).map(hexOf);
    case "rest":
    case "u8v":
      return fc.uint8Array({ maxLength: 5 }).map(hexOf);
    case "utf8v":
      return fc.string({ maxLength: 5, unit: "grapheme" });
    case "u1v":
      return fc
        .uint8Array({ maxLength: 4 })
        .chain((bytes) =>
          fc
            .integer({ min: 0, max: 7 })
            .map((fill) => ({ bits: Math.max(0, bytes.length * 8 - fill), hex: hexOf(bytes) })),
        );
    case "u16v":
      return integers(16);
    case "u32v":
      return integers(32);
  }
}

/** Content of a kind: every mandatory parameter, others now and then, never deeper than `depth`. */
function elementOf(spec: LlrpMessageSpec, depth: number): fc.Arbitrary<LlrpElement> {
  const named = spec.fields.filter(({ name }) => name !== null);
  const values = fc.record(Object.fromEntries(named.map((field) => [field.name!, contentOf(field)])));
  const inside = fc.tuple(...spec.places.map((place) => placeOf(place, depth))).map((lists) => lists.flat());
  return fc.tuple(values, inside).map(([content, list]) => ({ name: spec.name, values: content, parameters: list }));
}

function placeOf({ names, min, max }: Place, depth: number): fc.Arbitrary<LlrpElement[]> {
  const most = depth === 0 ? min : Math.min(max, min + 1);
  const one = fc.constantFrom(...names).chain((name) => elementOf(parameterByName(name)!, Math.max(0, depth - 1)));
  return fc.array(one, { minLength: min, maxLength: most });
}

const message = fc
  .constantFrom(...messages)
  .chain((spec) => fc.tuple(elementOf(spec, 2), fc.constantFrom(1, 2), fc.nat(0xffff_ffff)));

describe("LLRP", () => {
  it("gives back every message it has written", () => {
    fc.assert(
      fc.property(message, ([content, version, id]) => {
        const bytes = encodeLlrp(content, version, id);
        if (!(bytes instanceof Uint8Array)) throw new Error(JSON.stringify(bytes));
        expect(decodeLlrp(bytes)).toEqual({ ...content, version, id, skipped: [] });
      }),
      { numRuns: 400 },
    );
  });

  it("never throws for damaged bytes, and names a byte inside them", () => {
    fc.assert(
      fc.property(
        message,
        fc.array(fc.tuple(fc.nat(400), fc.nat(255)), { minLength: 1, maxLength: 4 }),
        fc.nat(400),
        ([content, version, id], hits, cut) => {
          const whole = encodeLlrp(content, version, id) as Uint8Array;
          const bytes = whole.slice(0, Math.max(1, whole.length - (cut % 3 === 0 ? cut % whole.length : 0)));
          for (const [at, value] of hits) bytes[at % bytes.length] = value;
          const found = decodeLlrp(bytes);
          if ("code" in found) {
            expect(found.byte).toBeGreaterThanOrEqual(0);
            expect(found.byte).toBeLessThanOrEqual(bytes.length);
          }
        },
      ),
      { numRuns: 600 },
    );
  });

  it("accounts for every byte of any stream, whatever its pieces", () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 40 }), { maxLength: 12 }), (pieces) => {
        const stream = new LlrpStream({ onMessage: () => undefined, onFault: () => undefined });
        for (const piece of pieces) stream.push(piece);
        stream.end();
        const { received, taken, refused, discarded, pending } = stream.counts;
        expect(received).toBe(pieces.reduce((sum, { length }) => sum + length, 0));
        expect(taken + refused + discarded + pending).toBe(received);
      }),
      { numRuns: 300 },
    );
  });

  it("has tables in which every parameter of a place exists, and no number twice", () => {
    const all = [...messages, ...parameters];
    for (const { places } of all)
      for (const { names } of places) for (const name of names) expect(parameterByName(name)?.name).toBe(name);
    expect(new Set(messages.map(({ type }) => type)).size).toBe(messages.length);
    expect(new Set(parameters.map(({ form, type }) => `${form} ${type}`)).size).toBe(parameters.length);
    expect(parameterByName(CUSTOM)?.type).toBe(1023);
  });
});
