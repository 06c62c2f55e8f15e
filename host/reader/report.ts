/** What a reader reports of its own accord. */

/** Memory banks of a Gen2 tag. */
export type BankName = "reserved" | "epc" | "tid" | "user";

/** One tag seen in one inventory round, with the words that were read. */
export interface TagReport {
  readonly kind: "read";
  /** The reader's own clock, in microseconds. */
  readonly kitTimeUs: number;
  /** EPC in lower-case hex. */
  readonly epc: string;
  readonly pc: number;
  /** XPC_W1; 0 when the tag sent none. */
  readonly xpc: number;
  /** Strength of the tag's reply; null when the reader does not measure it. */
  readonly rssiDbm: number | null;
  readonly frequencyKhz: number;
  /** `done`, `not_asked` or why the Read failed: the names of the specification's access results. */
  readonly result: string;
  readonly bank: BankName;
  /** Address of the first word. */
  readonly word: number;
  readonly words: readonly number[];
}

/** Ambient pressure from the reader's barometer. */
export interface AmbientReport {
  readonly kind: "ambient";
  readonly kitTimeUs: number;
  /** 1/128 Pa. */
  readonly pressureRaw: number;
  readonly temperatureC: number | null;
}
