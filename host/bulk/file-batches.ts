/** A capture in a file, as batches of columns: two threads share a large one. */
import { closeSync, fstatSync, openSync } from "node:fs";
import type { Layout } from "../../protocol/index.ts";
import type { Account } from "./account.ts";
import type { ColumnBatch } from "./batch.ts";
import type { Engine } from "./engine.ts";
import { FileBlocks } from "./file-blocks.ts";
import { FileReader } from "./file-reader.ts";
import { CAN_START, LARGE_BYTES, takeWorker } from "./worker.ts";
import { WorkerThread } from "./worker-thread.ts";

const BLOCK_BYTES = 2 * 1024 * 1024;

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
  const blocks = new FileBlocks(file, size, BLOCK_BYTES);
  const isShared = threads === 2 && CAN_START && size >= LARGE_BYTES;
  const task = { path, name, size, blockBytes: BLOCK_BYTES };
  const second = isShared ? new WorkerThread(takeWorker(), task) : null;
  try {
    yield* new FileReader({ blocks, layout, engine, account, name, second }).batches();
  } finally {
    second?.end();
    closeSync(file);
  }
}
