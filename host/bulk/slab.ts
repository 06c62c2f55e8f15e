/** Columns in one piece of memory that can be handed from one thread to another. */
import type { Layout } from "../../protocol/index.ts";
import type { RawBatch } from "./bulk-reader.ts";
import { type Column, type Columns, DATA_BYTES, makeColumns, ROWS } from "./engine.ts";

/** What a batch says beside its columns. */
export type BatchNotes = Omit<RawBatch, keyof Columns | "data" | "text">;

/** Columns and words that lie in a slab. */
export interface Slab extends Columns {
  readonly memory: ArrayBuffer;
  readonly data: Uint8Array;
}

/** A slab in memory of its own, or in memory that came from another thread. */
export function slabOf(layout: Layout, memory?: ArrayBuffer): Slab {
  const held = memory ?? new ArrayBuffer(slabBytes(layout));
  let at = DATA_BYTES;
  const columns = makeColumns(layout, (type) => {
    const column = new type(held, at, ROWS);
    at += column.byteLength;
    return column as never;
  });
  return { memory: held, data: new Uint8Array(held, 0, DATA_BYTES), ...columns };
}

function slabBytes(layout: Layout): number {
  let bytes = DATA_BYTES;
  makeColumns(layout, (type) => {
    bytes += type.BYTES_PER_ELEMENT * ROWS;
    return new type(0) as never;
  });
  return bytes;
}

/** Copies what a batch holds, and nothing beyond. */
export function copyBatch(batch: RawBatch, slab: Slab): BatchNotes {
  const [from, to] = [inOrder(batch), inOrder(slab)];
  from.reads.forEach((column, i) => {
    to.reads[i]!.set(column.subarray(0, batch.rows) as never);
  });
  from.ambient.forEach((column, i) => {
    to.ambient[i]!.set(column.subarray(0, batch.ambientRows) as never);
  });
  const last = batch.rows - 1;
  const used = last < 0 ? 0 : batch.reads.dataAt[last]! + 2 * batch.reads.words[last]!;
  slab.data.set(batch.data.subarray(0, used));
  const { firstLine, firstByte, lines, bytes, counts, fellBack, rows, tags, ambientRows, items } = batch;
  return { firstLine, firstByte, lines, bytes, counts, fellBack, rows, tags, ambientRows, items };
}

function inOrder({ reads, ambient, verdicts, fields }: Columns): { reads: Column[]; ambient: Column[] } {
  return {
    reads: [...Object.values(reads), ...Object.values(verdicts), ...Object.values(fields)],
    ambient: Object.values(ambient),
  };
}
