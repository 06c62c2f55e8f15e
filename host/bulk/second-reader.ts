/** A second reader of the same file, as the first one sees it. */
import type { RawBatch } from "./bulk-reader.ts";
import type { Engine } from "./engine.ts";

/** The memory of one of its engines, seen from both threads. */
export type Memory = Pick<Engine, "input" | "data" | "columns">;

/** A batch without what lies in memory; `text` begins at `input[textAt]`. */
export type Notes = Omit<RawBatch, keyof Engine["columns"] | "data" | "text"> & { readonly textAt: number };

/** What it says, block after block: the batches of one, then how it ended. */
export type FromSecond =
  /** Lines are counted from any number; the memory stays as it is until it is given back. */
  | { readonly kind: "batch"; readonly notes: Notes; readonly engine: number }
  | { readonly kind: "done" }
  /** A line changes how those behind it are read: what follows the last batch was not done. */
  | { readonly kind: "stopped" };

export interface SecondReader {
  /** Has it begin, with the blocks from this one on. */
  begin(block: number): void;
  /** Takes the next block that neither reader has begun; both take theirs in this way. */
  claim(): number;
  /** Its next word. Rejects when it fails. */
  next(): Promise<FromSecond>;
  /** Memory of an engine by its number. */
  memory(engine: number): Memory;
  giveBack(engine: number): void;
}

/** What is said of a batch whose text lies in `input`. */
export function notesOf(batch: RawBatch, input: Uint8Array): Notes {
  const { firstLine, firstByte, lines, bytes, counts, fellBack, rows, tags, ambientRows, oddRows, items, text } = batch;
  const textAt = text.byteOffset - input.byteOffset;
  return { firstLine, firstByte, lines, bytes, counts, fellBack, rows, tags, ambientRows, oddRows, items, textAt };
}
