import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isFault } from "../../protocol/codec/encode.ts";
import { parseEpc } from "../../protocol/epc/identity.ts";
import { storedCrc } from "../../protocol/epc/pc.ts";
import { encodeEpc } from "../../protocol/epc/uri.ts";
import { reasons } from "../../protocol/model/reasons.ts";

const hexDigits = (count: number) =>
  fc
    .array(fc.constantFrom(..."0123456789abcdef"), { minLength: count, maxLength: count })
    .map((digits) => digits.join(""));

/** 96 random bits behind a header the specification knows: about one in four is an EPC. */
const likely = fc.tuple(fc.constantFrom("30", "33", "34"), hexDigits(22)).map((parts) => parts.join(""));

describe("EPC identity", () => {
  it("turns 96 bits into a URI that turns back into the same bits, or says which field is wrong", () => {
    let good = 0;
    fc.assert(
      fc.property(likely, (hex) => {
        const identity = parseEpc(hex);
        if (isFault(identity)) {
          expect(["epc-partition-invalid", "epc-field-too-large"]).toContain(identity.code);
          expect(identity.bit).not.toBeNull();
        } else {
          good++;
          expect(encodeEpc(identity.tagUri)).toBe(hex);
          expect(identity.tagUri.replace(/^urn:epc:tag:([a-z]+)-96:\d\./, "urn:epc:id:$1:")).toBe(identity.pureUri);
        }
      }),
      { numRuns: 3000 },
    );
    expect(good).toBeGreaterThan(100);
  });

  it("never throws on any text and gives a place within it", () => {
    const text = fc.oneof(
      fc.string({ unit: "binary" }),
      hexDigits(24).map((hex) => `${hex} `),
      fc.string().map((tail) => `urn:epc:tag:sgtin-96:${tail}`),
      fc.array(fc.constantFrom("3", "0614141", ".", "812345", "giai-96:", ":", "urn:epc:tag:")).map((p) => p.join("")),
    );
    fc.assert(
      fc.property(text, (given) => {
        for (const answer of [parseEpc(given), encodeEpc(given)]) {
          if (typeof answer === "string" || !isFault(answer)) continue;
          expect(reasons).toHaveProperty([answer.code]);
          expect(answer.byte).toBeGreaterThanOrEqual(0);
          expect(answer.byte).toBeLessThanOrEqual(given.length);
        }
      }),
      { numRuns: 500 },
    );
  });

  it("accepts no URI but the one it would write itself", () => {
    const part = fc.stringMatching(/^[0-9]{0,14}$/);
    const uri = fc
      .tuple(fc.constantFrom("sgtin-96", "grai-96", "giai-96"), fc.array(part, { minLength: 3, maxLength: 4 }))
      .map(([scheme, parts]) => `urn:epc:tag:${scheme}:${parts.join(".")}`);
    fc.assert(
      fc.property(uri, (given) => {
        const hex = encodeEpc(given);
        if (typeof hex === "string") expect(parseEpc(hex)).toMatchObject({ tagUri: given });
      }),
      { numRuns: 3000, examples: [["urn:epc:tag:grai-96:0.123456789012..5"], ["urn:epc:tag:giai-96:0.123456.0"]] },
    );
  });
});

describe("StoredCRC", () => {
  it("changes with every single bit of PC and EPC", () => {
    const words = [0x3034, 0x257b, 0xf719, 0x4e40, 0x0000, 0x1a85];
    const crc = storedCrc(0x3400, words);
    for (let bit = 0; bit < 16 * 7; bit++) {
      const changed = [0x3400, ...words];
      changed[bit >> 4]! ^= 0x8000 >> (bit & 15);
      expect(storedCrc(changed[0]!, changed.slice(1))).not.toBe(crc);
    }
  });
});
