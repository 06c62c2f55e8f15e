/** The order of a file out of what two readers make of its blocks. */
import { setImmediate as nextTurn } from "node:timers/promises";
import type { Layout } from "../../protocol/index.ts";
import type { CaptureItem } from "../capture/item.ts";
import { LineRules } from "../capture/line-rules.ts";
import type { Account } from "./account.ts";
import type { ColumnBatch } from "./batch.ts";
import { BlockScan, readStretch } from "./block-scan.ts";
import { BulkReader, type RawBatch } from "./bulk-reader.ts";
import type { Engine } from "./engine.ts";
import type { FileBlocks } from "./file-blocks.ts";
import type { SecondReader } from "./second-reader.ts";

export interface FileReaderOptions {
  readonly blocks: FileBlocks;
  readonly layout: Layout;
  readonly engine: Engine;
  readonly account: Account;
  /** What messages call the file. */
  readonly name: string;
  readonly second: SecondReader | null;
}

/** Longest time between two turns: only then signals are heard. */
const TURN_MS = 10;

/** What was scanned before its turn, with a good header before it: a block up to its first batch. */
interface Ahead {
  readonly first: IteratorResult<RawBatch, "done" | "stopped">;
  readonly rest: Iterator<RawBatch, "done" | "stopped">;
}

/** Reads a file, whoever is free taking the next block, and gives the batches in the order of the file. */
export class FileReader {
  readonly #options: FileReaderOptions;
  readonly #rules: LineRules;
  readonly #reader: BulkReader;
  readonly #scan: BlockScan;
  #line = 1;
  #ahead: Ahead | null = null;

  constructor(options: FileReaderOptions) {
    const { blocks, layout, engine, name } = options;
    this.#options = options;
    this.#rules = new LineRules(name, layout);
    this.#reader = new BulkReader(engine, this.#rules, layout);
    this.#scan = new BlockScan(layout, engine, blocks, name);
  }

  async *batches(): AsyncGenerator<ColumnBatch> {
    const { blocks, second, account } = this.#options;
    let isShared = false;
    let turnedMs = performance.now();
    for (let turn = 0, ours = 0; turn < blocks.count; turn++) {
      if (performance.now() - turnedMs > TURN_MS) {
        await nextTurn();
        turnedMs = performance.now();
      }
      if (turn < ours) {
        yield* this.#theirs(turn);
        continue;
      }
      yield* this.#ours(turn);
      if (second && !isShared && this.#rules.isSettled) {
        second.begin(turn + 1);
        isShared = true;
      }
      ours = isShared ? second!.claim() : turn + 1;
      if (isShared && ours < blocks.count && this.#rules.isSettled) this.#lookAhead(ours);
    }
    this.#reader.goTo(this.#rules, this.#line, 0);
    const end = this.#reader.end();
    if (end) yield account.add(end);
  }

  /** Scans a block of ours while the other reader may still be at those before it. */
  #lookAhead(block: number): void {
    const rest = this.#scan.batches(block);
    this.#ahead = { first: rest.next(), rest };
  }

  *#ours(block: number): Generator<ColumnBatch> {
    const ahead = this.#ahead;
    this.#ahead = null;
    let { from, to } = this.#options.blocks.range(block);
    if (ahead) {
      let next = ahead.first;
      for (; !next.done; next = ahead.rest.next()) {
        from += next.value.bytes;
        yield this.#believe(next.value);
      }
      if (next.value === "done") return;
    }
    yield* this.#inTurn(from, to);
  }

  async *#theirs(block: number): AsyncGenerator<ColumnBatch> {
    const second = this.#options.second!;
    let { from, to } = this.#options.blocks.range(block);
    let isRefused = !this.#rules.isSettled;
    for (;;) {
      const message = await second.next();
      if (message.kind !== "batch") {
        isRefused ||= message.kind === "stopped";
        break;
      }
      const { notes, engine } = message;
      if (!isRefused) {
        from += notes.bytes;
        const { columns, data, input } = second.memory(engine);
        const text = input.subarray(notes.textAt, notes.textAt + notes.bytes);
        yield this.#believe({ ...notes, ...columns, data, text });
      }
      second.giveBack(engine);
    }
    if (!isRefused) return;
    // What was scanned ahead lies in the memory that is needed now.
    this.#ahead = null;
    yield* this.#inTurn(from, to);
  }

  /** Lines by what is known of those before them. */
  *#inTurn(from: number, to: number): Generator<ColumnBatch> {
    this.#reader.goTo(this.#rules, this.#line, from);
    for (const batch of readStretch(this.#reader, this.#options.blocks, from, to)) {
      yield this.#options.account.add(batch);
    }
    this.#line = this.#reader.line;
  }

  /** A batch whose reader did not know how many lines came before it, and supposed a good header there: there is one. */
  #believe(batch: RawBatch): ColumnBatch {
    const before = this.#line - batch.firstLine;
    const items = batch.items.map((item) => this.#moved(item, before));
    this.#line += batch.lines;
    this.#rules.pass(batch.counts);
    return this.#options.account.add({ ...batch, firstLine: batch.firstLine + before, items });
  }

  #moved(item: CaptureItem, lines: number): CaptureItem {
    const { line } = item.place;
    const place = { line: line + lines };
    const { name } = this.#options;
    const sentence = (text: string) => `${name}:${place.line}:${text.slice(`${name}:${line}:`.length)}`;
    if ("notice" in item) return { place, notice: { ...item.notice, sentence: sentence(item.notice.sentence) } };
    if ("reject" in item) return { place, reject: { ...item.reject, sentence: sentence(item.reject.sentence) } };
    return { ...item, place };
  }
}
