/**
 * What turns lines into columns: one engine in WebAssembly and one in plain TypeScript, with the same results to the byte.
 * An engine holds the memory of one batch, which another thread can read.
 */
import { type Layout, recordOf } from "../../protocol/index.ts";
import type { AmbientColumns, ReadColumns } from "./batch.ts";
import type { Order } from "./order.ts";

/** Reads, and ambient reports, that a batch can hold. */
export const ROWS = 8192;

/** Bytes of words that a batch can hold. */
export const DATA_BYTES = 512 * 1024;

/** Bytes of text an engine takes at once; the longest line fits in twice. */
export const INPUT_BYTES = 2 * 1024 * 1024 + 65_536;

/** Loads and stores of several bytes reach beyond what is meant. */
export const SLACK = 1088;

/** Bytes in which each EPC lies. */
export const TAG_BYTES = 64;

/** In a verdict, until it is settled: whole, and of a kind that the engine does not judge. */
export const UNJUDGED = 0xfffe;

/** Places in `state`; `origin` is where in `input` the batch begins. */
export const STATE = { rows: 0, ambientRows: 1, tags: 2, data: 3, lines: 4, origin: 5, unjudged: 6, odd: 7 } as const;

export type Column = Uint8Array | Uint16Array | Uint32Array | Int32Array | Float64Array;

type ColumnType =
  | Uint8ArrayConstructor
  | Uint16ArrayConstructor
  | Uint32ArrayConstructor
  | Int32ArrayConstructor
  | Float64ArrayConstructor;

/** An array that other threads see when it is posted to them. */
export function sharedArray<T extends ColumnType>(type: T, length: number): InstanceType<T> {
  return new type(new SharedArrayBuffer(length * type.BYTES_PER_ELEMENT) as never) as InstanceType<T>;
}

/** The columns an engine fills, and those only. */
export interface Columns {
  readonly reads: Omit<ReadColumns, "frame" | "burst" | "rejected">;
  readonly ambient: AmbientColumns;
  /**
   * Rows that are not as nearly all are, in their order: all but those with a good header and a whole frame, nothing cut short
   * and no burst.
   */
  readonly odd: Uint16Array;
  readonly verdicts: { readonly [region: string]: Uint16Array };
  readonly fields: { readonly [field: string]: Int32Array | Uint32Array };
}

/** A read as `take` is given it; its EPC and words lie where the engine's own would. */
export interface TakenRead {
  readonly byte: number;
  readonly kitTimeUs: number;
  readonly epcBytes: number;
  readonly pc: number;
  readonly xpc: number;
  readonly rssiDbm: number;
  readonly frequencyKhz: number;
  readonly result: number;
  readonly bank: number;
  readonly word: number;
  readonly dataBytes: number;
}

export interface Engine {
  readonly name: "WebAssembly" | "plain";
  readonly input: Uint8Array;
  readonly data: Uint8Array;
  readonly state: Uint32Array;
  /** EPCs of the batch, each in `TAG_BYTES` bytes, and how long each is. */
  readonly tagBytes: Uint8Array;
  readonly tagLengths: Uint32Array;
  readonly columns: Columns;
  /** Learns an order of members in place of the one before. */
  learn(order: Order): void;
  /** Begins a batch whose first byte is `input[origin]`. */
  begin(origin: number): void;
  /**
   * Takes lines from `input[from, to)` as long as they fit a learned order and the columns hold them; gives the place of the
   * first line that was not taken. Writes a zero behind the last byte.
   */
  scan(from: number, to: number): number;
  takeRead(read: TakenRead): void;
  takeAmbient(byte: number, kitTimeUs: number, pressureRaw: number, temperatureC: number): void;
  /** Judges `count` frames, one after the other in `input`, and stores their fields; verdicts are those of slot A. */
  takeFrames(count: number): void;
}

/**
 * The columns, each made by `make` in the order in which the C declares them: reads, ambient reports, odd rows, a verdict for each
 * region of the USER bank, a column for each field of the frame.
 */
export function makeColumns(layout: Layout, make: <T extends ColumnType>(type: T) => InstanceType<T>): Columns {
  const reads = {
    line: make(Uint32Array),
    byte: make(Uint32Array),
    kitTimeUs: make(Float64Array),
    tag: make(Uint32Array),
    pc: make(Uint16Array),
    xpc: make(Uint16Array),
    rssiDbm: make(Float64Array),
    frequencyKhz: make(Uint32Array),
    result: make(Uint8Array),
    bank: make(Uint8Array),
    word: make(Uint16Array),
    words: make(Uint16Array),
    dataAt: make(Uint32Array),
    partial: make(Uint8Array),
    slot: make(Uint8Array),
  };
  const ambient = {
    line: make(Uint32Array),
    byte: make(Uint32Array),
    kitTimeUs: make(Float64Array),
    pressureRaw: make(Uint32Array),
    temperatureC: make(Float64Array),
  };
  const odd = make(Uint16Array);
  const user = layout.banks.find(({ id }) => id === "user")!;
  const regions = user.regions.filter(({ record }) => record !== null);
  const verdicts = Object.fromEntries(regions.map(({ id }) => [id, make(Uint16Array)]));
  const fields = Object.fromEntries(
    recordOf(layout, "frame")
      .fields.filter(({ type }) => type !== "constant" && type !== "reserved" && type !== "checksum")
      .map(({ id, width, signed }) => [id, !signed && width === 32 ? make(Uint32Array) : make(Int32Array)]),
  );
  return { reads, ambient, odd, verdicts, fields };
}
