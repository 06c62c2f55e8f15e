/** A capture in a file, as batches of columns: two threads share a large one. */
import { closeSync, fstatSync, openSync } from "node:fs";
import type { Layout } from "../../protocol/index.ts";
import type { Account } from "./account.ts";
import type { ColumnBatch } from "./batch.ts";
import type { Engine } from "./engine.ts";
import { FileReader } from "./file-reader.ts";
import { CAN_START, WorkerThread } from "./worker-thread.ts";

/** Bytes of a stretch, and of a file from which on a second thread is worth its start. */
const RANGE_BYTES = 4 * 1024 * 1024;
const LARGE_BYTES = 32 * 1024 * 1024;

export interface FileOptions {
  /** What messages call the file. */
  readonly name: string;
  readonly threads: 1 | 2;
}

/**
 * Batches of a capture in a regular file, JSON Lines or CSV, counted in `account`. An error of the file comes out of the
 * iteration; the thread is gone when the iteration ends, however it ends.
 */
export async function* fileBatches(
  path: string,
  layout: Layout,
  engine: Engine,
  account: Account,
  { name, threads }: FileOptions,
): AsyncGenerator<ColumnBatch> {
  const file = openSync(path, "r");
  const { size } = fstatSync(file);
  const second = threads === 2 && CAN_START && size >= LARGE_BYTES ? new WorkerThread(path, name) : null;
  try {
    yield* new FileReader({ file, size, layout, engine, account, name, second, rangeBytes: RANGE_BYTES }).batches();
  } finally {
    await second?.end();
    closeSync(file);
  }
}
