/**
 * What can differ between two layouts. The measure is a record already on a tag, or a peer already in service: `breaks` when
 * a record sealed under the old layout would be rejected, or read as something else, by the new one; `allowed` when it
 * reads the same. Any change of the canonical text asks for a new layout number all the same (protocol/FINGERPRINT.md).
 */
export type Effect = "breaks" | "allowed";

/** One difference: the rule, the place, and what stood and stands there, ready to print. */
export interface Change {
  readonly code: ChangeCode;
  readonly path: string;
  readonly effect: Effect;
  readonly was: string;
  readonly now: string;
}

/** The rule table. */
export const changeRules = {
  "layout-renumbered": { effect: "allowed", says: "another layout number: records of the old one are named as such" },
  "text-changed": { effect: "allowed", says: "only prose differs" },
  // Records.
  "record-added": { effect: "allowed", says: "a record nobody wrote before" },
  "record-removed": { effect: "breaks", says: "a record that can no longer be read" },
  "record-resized": { effect: "breaks", says: "the length check rejects the other length" },
  // Fields: place and type.
  "field-added": { effect: "breaks", says: "a field on bits that belonged to another field or to none" },
  "field-removed": { effect: "breaks", says: "a value that can no longer be read" },
  "field-renamed": { effect: "breaks", says: "the same bits under another id: consumers look values up by id" },
  "field-moved": { effect: "breaks", says: "another byte, container, byte order or bit" },
  "field-resized": { effect: "breaks", says: "another number of bits or elements" },
  "fields-reordered": { effect: "allowed", says: "listed in another order: raw values come back in that order" },
  "type-changed": { effect: "breaks", says: "another type of field" },
  "sign-changed": { effect: "breaks", says: "two's complement against unsigned" },
  "reserved-used": { effect: "allowed", says: "a field on reserved bits whose zero says nothing was written" },
  "reserved-misread": {
    effect: "breaks",
    says: "a field on reserved bits: the zero of an old record reads as a value",
  },
  // Fields: meaning.
  "scale-changed": { effect: "breaks", says: "another numerator, denominator or addend" },
  "unit-changed": { effect: "breaks", says: "another unit" },
  "rounding-changed": { effect: "allowed", says: "encoders round another way; old raw values read the same" },
  "out-of-range-changed": { effect: "allowed", says: "encoders treat values outside the range another way" },
  "range-narrowed": { effect: "breaks", says: "values that were valid are rejected" },
  "range-widened": { effect: "allowed", says: "values that were rejected are valid" },
  "sentinel-added": { effect: "allowed", says: "a raw value that was rejected has a meaning of its own" },
  "sentinel-shadows": { effect: "breaks", says: "a raw value that was a number has another meaning" },
  "sentinel-removed": { effect: "breaks", says: "a raw value lost its meaning" },
  "sentinel-changed": { effect: "breaks", says: "the same raw value under another id or meaning" },
  "name-added": { effect: "allowed", says: "a value that was rejected has a name" },
  "name-removed": { effect: "breaks", says: "a value that had a name is rejected" },
  "name-changed": { effect: "breaks", says: "the same value under another name" },
  "flag-added": { effect: "allowed", says: "a bit that had to be zero has a name: old records read as not set" },
  "flag-removed": { effect: "breaks", says: "a bit that had a name is rejected when set" },
  "flag-changed": { effect: "breaks", says: "the same bit under another name" },
  "constant-changed": { effect: "breaks", says: "another fixed value or role" },
  "checksum-changed": { effect: "breaks", says: "another algorithm or other bytes covered" },
  "cold-start-changed": { effect: "allowed", says: "firmware starts from another value; the same bits read the same" },
  // Tails.
  "tail-changed": { effect: "breaks", says: "a tail added, removed, moved in the order or of other elements" },
  // Who writes, and how it is locked.
  "writer-changed": { effect: "allowed", says: "somebody else writes it" },
  "lock-changed": { effect: "allowed", says: "another lock state is expected in service" },
  // Banks.
  "bank-added": { effect: "allowed", says: "a bank nobody read before" },
  "bank-removed": { effect: "breaks", says: "a bank that is no longer there" },
  "bank-shrunk": { effect: "breaks", says: "fewer words" },
  "bank-grown": { effect: "allowed", says: "more words" },
  "region-added": { effect: "allowed", says: "words nobody read before" },
  "region-removed": { effect: "breaks", says: "a region that is no longer there" },
  "region-moved": { effect: "breaks", says: "another word address" },
  "region-resized": { effect: "breaks", says: "another number of words" },
  "region-record-changed": { effect: "breaks", says: "another record in the same words" },
  // The link.
  "message-added": { effect: "allowed", says: "an old peer answers it with an error" },
  "message-removed": { effect: "breaks", says: "an old peer's message is answered with an error" },
  "message-code-changed": { effect: "breaks", says: "another type octet or direction" },
  "message-answer-changed": { effect: "breaks", says: "another answer" },
  "message-record-changed": { effect: "breaks", says: "another payload record" },
} as const satisfies Record<string, { effect: Effect; says: string }>;

export type ChangeCode = keyof typeof changeRules;

/** Builds a change; its effect is the rule's own. */
export function change(code: ChangeCode, path: string, was: unknown, now: unknown): Change {
  return { code, path, effect: changeRules[code].effect, was: printed(was), now: printed(now) };
}

function printed(value: unknown): string {
  return value === undefined || value === null ? "nothing" : String(value);
}

/** The change, when the two differ as printed. */
export function whenDiffers(code: ChangeCode, path: string, was: unknown, now: unknown): Change[] {
  return printed(was) === printed(now) ? [] : [change(code, path, was, now)];
}
