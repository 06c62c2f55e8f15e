/** What `decode --out` writes. */
import type { Fault } from "../../protocol/index.ts";
import type { Reading, Waveform } from "../readings/reading.ts";
import type { DecodeItem } from "./recording.ts";

/** Reports and what announces them. */
export type Kept = Extract<DecodeItem, { report: unknown } | { header: unknown } | { session: unknown }>;

export interface DecodeOut {
  readonly path: string;
  /** Takes an item before its outcomes; not `wanted` before the place the output is to begin at. Why a report cannot be kept. */
  item(item: Kept, wanted: boolean): Fault | null;
  /** Takes a reading or waveform. */
  outcome(outcome: Reading | Waveform): void;
  /** Writes what has come together, all of it or as soon as it is a good deal. */
  drain(all: boolean): Promise<void>;
  /** Ends the file and gives it its name; what is in it, in a few words. */
  finish(): Promise<string>;
  /** Removes it. */
  discard(): Promise<void>;
}
