/** EPC identity against the epc-tds package over random EPCs, both ways. */
import tds from "epc-tds";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isFault } from "../../protocol/codec/encode.ts";
import { parseEpc } from "../../protocol/epc/identity.ts";
import { encodeEpc } from "../../protocol/epc/uri.ts";

// Its types describe an ES module, its code is the CommonJS object itself.
const oracle = tds as unknown as typeof tds.default;

const digits = (count: number) =>
  fc.bigInt({ min: 0n, max: 10n ** BigInt(count) - 1n }).map((value) => value.toString().padStart(count, "0"));
const serial = fc.bigInt({ min: 0n, max: 2n ** 38n - 1n }).map(String);
const filter = fc.integer({ min: 0, max: 7 });

/** Bits of a GIAI-96 asset reference by length of the company prefix, TDS 2.3 (from memory). */
const giaiBits: Record<number, bigint> = { 12: 42n, 11: 45n, 10: 48n, 9: 52n, 8: 55n, 7: 58n, 6: 62n };

const tagUris = {
  "sgtin-96": fc
    .integer({ min: 6, max: 12 })
    .chain((length) => fc.tuple(filter, digits(length), digits(13 - length), serial)),
  // The package writes and reads the empty asset type of a 12-digit company prefix as 0, which is not the standard's way.
  "grai-96": fc
    .integer({ min: 6, max: 11 })
    .chain((length) => fc.tuple(filter, digits(length), digits(12 - length), serial)),
  "giai-96": fc
    .integer({ min: 6, max: 12 })
    .chain((length) =>
      fc.tuple(filter, digits(length), fc.bigInt({ min: 0n, max: 2n ** giaiBits[length]! - 1n }).map(String)),
    ),
};

describe("EPC identity and the epc-tds package", () => {
  it.each(Object.keys(tagUris) as (keyof typeof tagUris)[])("agree on %s", (scheme) => {
    fc.assert(
      fc.property(tagUris[scheme] as fc.Arbitrary<(string | number)[]>, (parts) => {
        const tagUri = `urn:epc:tag:${scheme}:${parts.join(".")}`;
        const theirs = oracle.fromTagURI(tagUri);
        const hex = encodeEpc(tagUri);
        expect(hex).toBe(theirs.toHexString().toLowerCase());
        const identity = parseEpc(hex as string);
        if (isFault(identity)) throw new Error(`${tagUri}: ${identity.code}`);
        expect(identity.tagUri).toBe(oracle.valueOf(hex as string).toTagURI());
        expect(identity.pureUri).toBe(theirs.toIdURI());
      }),
      { numRuns: 1000 },
    );
  });
});
