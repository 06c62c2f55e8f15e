/** Blocks of a capture, each as if a good header stood before it. */
import type { Layout } from "../../protocol/index.ts";
import type { CaptureItem } from "../capture/item.ts";
import { LineRules } from "../capture/line-rules.ts";
import { BulkReader, type RawBatch } from "./bulk-reader.ts";
import type { Engine } from "./engine.ts";
import type { FileBlocks } from "./file-blocks.ts";

/** Number of the first line of a block: only the first of a file may begin with a byte order mark. */
const FIRST_LINE = 2;

export class BlockScan {
  readonly #layout: Layout;
  readonly #blocks: FileBlocks;
  readonly #name: string;
  readonly #reader: BulkReader;
  #rules: LineRules;

  /** `name` is what messages call the file. */
  constructor(layout: Layout, engine: Engine, blocks: FileBlocks, name: string) {
    this.#layout = layout;
    this.#blocks = blocks;
    this.#name = name;
    this.#rules = this.#newRules();
    this.#reader = new BulkReader(engine, this.#rules, layout);
  }

  /**
   * The batches of a block, lines counted from any number: how many came before it is not known here. `stopped` when a line
   * changes how those behind it are read: what follows the last batch was not done.
   */
  *batches(block: number): Generator<RawBatch, "done" | "stopped"> {
    const { from, to } = this.#blocks.range(block);
    if (!this.#rules.isSettled) this.#rules = this.#newRules();
    this.#reader.goTo(this.#rules, FIRST_LINE, from);
    for (const batch of readStretch(this.#reader, this.#blocks, from, to)) {
      if (!this.#rules.isSettled || batch.items.some(namesAnotherLine)) return "stopped";
      yield batch;
    }
    return "done";
  }

  #newRules(): LineRules {
    const rules = new LineRules(this.#name, this.#layout);
    rules.resume();
    return rules;
  }
}

function namesAnotherLine(item: CaptureItem): boolean {
  return "reject" in item && item.reject.becauseOf !== null;
}

/** Batches of a stretch of a file, to which the reader was sent. */
export function* readStretch(reader: BulkReader, blocks: FileBlocks, from: number, to: number): Generator<RawBatch> {
  for (let at = from; at < to; ) {
    const count = blocks.fill(reader.space().subarray(0, to - at), at);
    at = count === 0 ? to : at + count;
    reader.hold(count);
    yield* reader.batches(at === to);
  }
}
