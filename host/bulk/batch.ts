/**
 * What the bulk decoder hands on: the reads of a stretch of a capture as columns, one element of every array a read, in
 * the order of their lines, with everything else that stood between them.
 */
import type { CaptureCounts, CaptureItem } from "../capture/item.ts";

/**
 * Columns of the reads. Only the first `batch.rows` elements mean something, and only until the next batch is asked for:
 * the arrays are used again.
 */
export interface ReadColumns {
  /** Line of the read, counted from 0 at `batch.firstLine`. */
  readonly line: Uint32Array;
  /** First byte of that line, counted from 0 at `batch.firstByte`. */
  readonly byte: Uint32Array;
  readonly kitTimeUs: Float64Array;
  /** Index in `batch.tags`. */
  readonly tag: Uint32Array;
  readonly pc: Uint16Array;
  readonly xpc: Uint16Array;
  /** Not a number where the reader did not measure it. */
  readonly rssiDbm: Float64Array;
  readonly frequencyKhz: Uint32Array;
  /** Raw value of the link's `result`: 0 for `done`, else the number of a reason or of `not_asked`. */
  readonly result: Uint8Array;
  /** Number of the bank. */
  readonly bank: Uint8Array;
  /** Address of the first word read. */
  readonly word: Uint16Array;
  /** Number of words read. */
  readonly words: Uint16Array;
  /** Where in `batch.data` they begin; big-endian, two bytes a word. */
  readonly dataAt: Uint32Array;
  /** 1 where the read holds only a part of a region, one slot without the other, or no word though it was done. */
  readonly partial: Uint8Array;
  /** Which slot holds the newest whole frame: 0 none, 1 slot A, 2 slot B. The frame may still be refused: see `frame`. */
  readonly slot: Uint8Array;
  /** Why the read gives no frame: 0 it gives one, `NOT_HELD` it holds no slot, else the number of the reason. */
  readonly frame: Uint8Array;
  /** The same of the burst block. */
  readonly burst: Uint8Array;
  /** Number of the reason for which `decode` would reject the line although it could be read; 0: it would not. */
  readonly rejected: Uint8Array;
}

/** In `frame` and `burst`: the read holds nothing of the kind. */
export const NOT_HELD = 255;

/** In a verdict: nothing of the region is in the read. */
export const NOT_READ = 0xffff;

/** Columns of the ambient reports, in the order of their lines; valid as long as the columns of reads. */
export interface AmbientColumns {
  readonly line: Uint32Array;
  readonly byte: Uint32Array;
  readonly kitTimeUs: Float64Array;
  /** 1/128 Pa. */
  readonly pressureRaw: Uint32Array;
  /** Degree Celsius; not a number where it was not measured. */
  readonly temperatureC: Float64Array;
}

/** A stretch of whole lines. Batches come in the order of the capture and leave no line out. */
export interface ColumnBatch {
  /** Number of the first line, from 1, and its first byte in the capture, from 0. */
  readonly firstLine: number;
  readonly firstByte: number;
  readonly lines: number;
  readonly bytes: number;
  /** What became of its lines. */
  readonly counts: CaptureCounts;
  /** Lines with a record that did not fit the learned order of members and went through the rules for single lines. */
  readonly fellBack: number;

  /** Reads. */
  readonly rows: number;
  readonly reads: ReadColumns;
  /**
   * Verdict on every region of the USER bank by its id, as `Verdict` of the codec: 0 whole, else reason · 256 + field;
   * `record-too-short` where only a part was read, `NOT_READ` where nothing was. A header that is whole but names another
   * specification is `fingerprint-mismatch`.
   */
  readonly verdicts: { readonly [region: string]: Uint16Array };
  /** Raw values of the frame in the chosen slot by the id of the field; 0 and without meaning where `slot` is 0. */
  readonly fields: { readonly [field: string]: Int32Array | Uint32Array };
  /** Words of all reads. */
  readonly data: Uint8Array;
  /** EPCs in lower-case hex; the numbering is the batch's own. */
  readonly tags: readonly string[];

  readonly ambientRows: number;
  readonly ambient: AmbientColumns;

  /** Capture headers, notices and lines that could not be read, in the order of their lines. */
  readonly items: readonly CaptureItem[];

  /** The line of a read as it came, line end included. */
  lineBytes(row: number): Uint8Array;
}
