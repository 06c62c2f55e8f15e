/** The program of the second thread: it takes one block after the other until there is none left. */
import { openSync } from "node:fs";
import { type MessagePort, parentPort } from "node:worker_threads";
import { layout } from "../../protocol/index.ts";
import { BlockScan } from "./block-scan.ts";
import type { Engine } from "./engine.ts";
import { ENGINES, Exchange } from "./exchange.ts";
import { FileBlocks } from "./file-blocks.ts";
import { makeEngine } from "./make-engine.ts";
import { type FromSecond, type Memory, notesOf } from "./second-reader.ts";

/** What it is told: a file, what messages call it, and where the answers go. */
export interface Task {
  readonly path: string;
  readonly name: string;
  readonly size: number;
  readonly blockBytes: number;
  readonly exchange: SharedArrayBuffer;
  readonly port: MessagePort;
}

/** What it says: the memory of every engine before it is used for the first time, in the order of their numbers, and the rest. */
export type FromWorker = FromSecond | { readonly kind: "engine"; readonly memory: Memory };

/** Made before there is work. */
let spare: Engine | null = makeEngine(layout);
parentPort!.once("message", work);

function work({ path, name, size, blockBytes, exchange: shared, port }: Task): void {
  const exchange = new Exchange(shared);
  const say = (message: FromWorker) => {
    port.postMessage(message);
    exchange.ring();
  };
  const blocks = new FileBlocks(openSync(path, "r"), size, blockBytes);
  const readers: { readonly scan: BlockScan; readonly input: Uint8Array }[] = [];
  const newReader = () => {
    const engine = spare ?? makeEngine(layout);
    spare = null;
    const { input, data, columns } = engine;
    say({ kind: "engine", memory: { input, data, columns } });
    return { scan: new BlockScan(layout, engine, blocks, name), input };
  };
  for (let block = exchange.claim(), i = 0; block < blocks.count; block = exchange.claim(), i = (i + 1) % ENGINES) {
    const { to } = blocks.range(block);
    exchange.awaitBack(i);
    const { scan, input } = (readers[i] ??= newReader());
    const batches = scan.batches(block);
    let next = batches.next();
    for (; !next.done; next = batches.next()) {
      const notes = notesOf(next.value, input);
      exchange.give(i);
      say({ kind: "batch", notes, engine: i });
      // What follows in this block lies in the same memory.
      if (notes.firstByte + notes.bytes < to) exchange.awaitBack(i);
    }
    say({ kind: next.value });
  }
}
