/**
 * The closed list of reason codes: why something was rejected. The same in TypeScript, C, vectors and docs.
 * `number` is the code's value where a byte is wanted (C, the link's error message); numbers are never reused.
 */
export const reasons = {
  // A sealed record or memory region.
  "record-too-short": { number: 1, says: "fewer bytes than the record has" },
  "trailing-bytes": { number: 2, says: "more bytes than the record has" },
  "record-empty": { number: 3, says: "every byte is zero: never written" },
  "checksum-mismatch": { number: 4, says: "the checksum does not fit the bytes it covers" },
  "kind-unexpected": { number: 5, says: "a sealed record of another kind" },
  "layout-unknown": { number: 6, says: "written with another layout than the one read with" },
  "marker-mismatch": { number: 7, says: "a fixed value is not what it must be" },
  "reserved-bit-set": { number: 8, says: "a bit kept for later is set" },
  "name-unknown": { number: 9, says: "a value outside the closed list" },
  "value-out-of-range": { number: 10, says: "a value outside its valid range" },
  "fingerprint-mismatch": { number: 11, says: "same layout number, different specification" },
  "count-mismatch": { number: 12, says: "a count does not fit the bytes that follow" },
  // The choice between two copies.
  "slots-contradict": { number: 20, says: "both slots are whole but cannot be ordered" },
  "slots-both-bad": { number: 21, says: "neither slot holds a whole frame" },
  "copies-both-bad": { number: 22, says: "neither copy of the block is whole" },
  // EPC identity.
  "epc-header-unknown": { number: 30, says: "not an EPC scheme this specification knows" },
  "epc-partition-invalid": { number: 31, says: "partition value outside 0 to 6" },
  "epc-field-too-large": { number: 32, says: "a field holds a number with too many digits" },
  "epc-field-malformed": { number: 33, says: "a field of the URI is not written as the standard asks" },
  "epc-length-invalid": { number: 34, says: "not the length of the scheme" },
  // The link.
  "link-stuffing-invalid": { number: 40, says: "the byte stuffing runs past the frame's end or holds a zero" },
  "link-frame-too-long": { number: 41, says: "more bytes without a delimiter than the longest frame has" },
  "link-checksum-mismatch": { number: 42, says: "the link checksum does not fit" },
  "message-unknown": { number: 43, says: "a message type outside the list" },
  "message-not-now": { number: 44, says: "a known message that cannot be served in the present state" },
  "request-refused": { number: 45, says: "a value the reader kit cannot serve" },
  "request-timed-out": { number: 46, says: "no answer in time" },
  "too-many-outstanding": { number: 47, says: "more requests under way than agreed" },
  "link-closed": { number: 48, says: "the port closed" },
  // What the air said of an access.
  "tag-lost": { number: 60, says: "the tag did not answer" },
  "tag-memory-overrun": { number: 61, says: "the words asked for do not exist" },
  "tag-memory-locked": { number: 62, says: "the memory is locked" },
  "tag-power-insufficient": { number: 63, says: "not enough power for the access" },
  "tag-error": { number: 64, says: "the tag answered with another error" },
  "password-wrong": { number: 65, says: "the access password was not accepted" },
  // Text that carries records.
  "hex-odd-length": { number: 80, says: "an odd number of hex digits" },
  "hex-bad-digit": { number: 81, says: "a character that is no hex digit" },
  "json-invalid": { number: 82, says: "not a JSON object" },
  "header-missing": { number: 83, says: "no header record where one must stand" },
  "version-unknown": { number: 84, says: "a version this program does not know" },
  "field-missing": { number: 85, says: "a field that must be there is not" },
  "field-invalid": { number: 86, says: "a field whose value is not of its kind" },
  "column-missing": { number: 87, says: "a column that must be there is not" },
  "line-too-long": { number: 88, says: "a line longer than any record" },
  "file-empty": { number: 89, says: "no record at all" },
  // LLRP, the open reader protocol.
  "llrp-length-invalid": { number: 100, says: "a length that does not fit what it stands in" },
  "llrp-parameter-unknown": { number: 101, says: "a parameter of unknown type that cannot be skipped" },
  "llrp-version-unsupported": { number: 102, says: "a version of LLRP this program does not speak" },
  "llrp-status": { number: 103, says: "the reader answered with a status other than success" },
  "llrp-parameter-unexpected": { number: 104, says: "a parameter where the standard has none of its kind" },
} as const satisfies Record<string, { number: number; says: string }>;

export type Reason = keyof typeof reasons;

/**
 * An error as data. `byte` is counted from the start of the record it is about (of the memory given, where two copies are
 * weighed against each other; of the stream, for the link), `bit` within the field's container (0 the least significant),
 * `path` is `record.field[.flag]`. The command line turns it into a sentence.
 */
export interface Fault {
  readonly code: Reason;
  readonly byte: number;
  readonly bit: number | null;
  readonly path: string;
  readonly expected: string;
  readonly actual: string;
}

/** Reason code of a number, for the link's error message; undefined when the number is in no list. */
export function reasonByNumber(number: number): Reason | undefined {
  for (const code of Object.keys(reasons) as Reason[]) if (reasons[code].number === number) return code;
  return undefined;
}

/** One sentence for a fault, without its file or line: the caller knows those. */
export function sentence(fault: Fault): string {
  const place = fault.bit === null ? `byte ${fault.byte}` : `byte ${fault.byte}, bit ${fault.bit}`;
  return `${fault.path}: ${reasons[fault.code].says} (${place}: expected ${fault.expected}, found ${fault.actual}) [${fault.code}]`;
}
