/** What is wrong with a specification: the rule's code, the place, and one sentence. */
export interface Problem {
  readonly code: Rule;
  readonly path: string;
  readonly says: string;
}

/** Every rule a specification is held to; each has a deliberately wrong specification as its test. */
export const rules = {
  "name-malformed": "an id is not snake_case",
  "name-reserved": "an id is a reserved word of C, which every emitted language must do without",
  "name-duplicate": "two things in one list carry the same id",
  "reason-missing": "a field, flag, region or record does not say why it exists",
  "slice-outside-container": "the bits do not lie in the container, or are written lsb first",
  "slice-too-wide": "more than 53 bits: the raw value would not be a safe integer",
  "container-outside-record": "a container runs past the record's end",
  "container-mixed": "two fields see the same bytes through containers that differ",
  "field-overlap": "two fields share a bit",
  "field-gap": "a bit of the record belongs to no field",
  "unit-unknown": "a unit outside the list",
  "scale-invalid": "numerator, denominator or addend is not a safe integer, or a factor is not positive",
  "range-reversed": "the range's lower end is above its upper end",
  "range-too-wide": "the range does not fit the bits and sign",
  "sentinel-outside-bits": "a sentinel does not fit the bits and sign",
  "sentinel-in-range": "a sentinel lies inside the valid range",
  "value-duplicate": "two sentinels, names or flags carry the same value",
  "name-outside-bits": "an enumeration value or constant does not fit the bits",
  "flag-outside-bits": "a flag's bit lies outside the field",
  "flags-too-wide": "a flags field of more than 31 bits: bit arithmetic in every language must hold it",
  "enumeration-empty": "an enumeration, flags field or array has no member",
  "cold-start-invalid": "the value after a cold start fits neither range nor sentinel",
  "cold-start-missing": "a field in a bank does not say its value after a cold start",
  "fields-too-many": "more than 255 fields: a verdict keeps the field in one octet",
  "kind-duplicate": "two records of tag memory carry the same kind",
  "checksum-unknown": "a checksum algorithm outside the list",
  "checksum-span-invalid": "the checksum covers itself or bytes outside the record",
  "tail-count-invalid": "a tail's count is not an earlier unsigned field",
  "tail-in-bank": "a record of a bank has a tail: memory has no length but its own",
  "layout-number-invalid": "the layout version does not fit the four bits every record gives it",
  "record-unknown": "a region or message names a record that does not exist",
  "region-size-mismatch": "a region is not as long as its record",
  "region-overlap": "two regions share a word",
  "region-gap": "a word of the bank belongs to no region",
  "region-outside-bank": "a region runs past the bank's end",
  "message-code-invalid": "a message type does not fit an octet or is used twice in one direction",
  "message-answer-unknown": "a request names an answer that does not exist",
} as const satisfies Record<string, string>;

export type Rule = keyof typeof rules;

/** Builds a problem; the sentence is the rule's own, with what was found. */
export function problem(code: Rule, path: string, found: string): Problem {
  return { code, path, says: `${rules[code]}: ${found}` };
}
