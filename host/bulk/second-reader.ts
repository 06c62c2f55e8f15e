/** What the first thread and the second say to each other. */
import type { Range } from "./file-ranges.ts";
import type { BatchNotes } from "./slab.ts";

/** To the second thread: a stretch to do, or memory that is free again. */
export type ToSecond = { readonly range: Range } | { readonly memory: ArrayBuffer };

/** From it, on one stretch after the other: its batches, then how it ended. */
export type FromSecond =
  /** Lines are counted from any number: how many came before the stretch is not known there. */
  | { readonly kind: "batch"; readonly notes: BatchNotes; readonly memory: ArrayBuffer }
  | { readonly kind: "done" }
  /** A line changes how those behind it are read: what follows the last batch was not done. */
  | { readonly kind: "stopped" };

/** The second thread as the first one sees it. */
export interface SecondReader {
  /** Whether it can take another stretch. Throws when the thread failed. */
  readonly wantsMore: boolean;
  give(range: Range): void;
  /** Gives the memory of a batch back. */
  giveBack(memory: ArrayBuffer): void;
  /** Its next word on the stretches it was given, in their order. Rejects when the thread fails. */
  next(): Promise<FromSecond>;
  end(): Promise<void>;
}
