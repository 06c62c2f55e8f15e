/** The order of a file out of what two readers make of its stretches. */
import { readSync } from "node:fs";
import { setImmediate as nextTurn } from "node:timers/promises";
import type { Layout } from "../../protocol/index.ts";
import type { CaptureItem } from "../capture/item.ts";
import { LineRules } from "../capture/line-rules.ts";
import { LINE_LIMIT } from "../capture/lines.ts";
import type { Account } from "./account.ts";
import type { ColumnBatch } from "./batch.ts";
import { BulkReader, type RawBatch } from "./bulk-reader.ts";
import type { Engine } from "./engine.ts";
import { FileRanges, fill, type Range } from "./file-ranges.ts";
import type { SecondReader } from "./second-reader.ts";
import { type BatchNotes, slabOf } from "./slab.ts";
import { lineBytesOf } from "./stream-batches.ts";

/** A stretch and who does it. */
interface Share extends Range {
  readonly isOurs: boolean;
}

export interface FileReaderOptions {
  /** Open for reading, and how many bytes it has. */
  readonly file: number;
  readonly size: number;
  readonly layout: Layout;
  readonly engine: Engine;
  readonly account: Account;
  /** What messages call the file. */
  readonly name: string;
  readonly second: SecondReader | null;
  /** Bytes of a stretch, at least. */
  readonly rangeBytes: number;
}

/** Reads a file, every other stretch by a second reader, and gives the batches in the order of the file. */
export class FileReader {
  readonly #options: FileReaderOptions;
  readonly #ranges: FileRanges;
  readonly #rules: LineRules;
  readonly #shares: Share[] = [];
  #line = 1;

  constructor(options: FileReaderOptions) {
    this.#options = options;
    this.#ranges = new FileRanges(options.file, options.size, options.rangeBytes);
    this.#rules = new LineRules(options.name, options.layout);
  }

  async *batches(): AsyncGenerator<ColumnBatch> {
    for (let share = this.#next(); share; share = this.#next()) {
      this.#shareOut();
      yield* share.isOurs ? this.#scan(share) : this.#await(share);
    }
    const end = this.#readerAt(this.#options.size).end();
    if (end) yield this.#options.account.add(end, lineBytesOf(end));
  }

  #next(): Share | null {
    const range = this.#shares.shift();
    if (range) return range;
    const next = this.#ranges.next();
    return next && { ...next, isOurs: true };
  }

  /** Gives the second reader a stretch as soon as it can take one, and keeps the one behind it. */
  #shareOut(): void {
    const { second } = this.#options;
    while (second?.wantsMore && this.#rules.isSettled) {
      const theirs = this.#ranges.next();
      if (!theirs) return;
      second.give(theirs);
      this.#shares.push({ ...theirs, isOurs: false });
      const ours = this.#ranges.next();
      if (ours) this.#shares.push({ ...ours, isOurs: true });
    }
  }

  /** A stretch done here. */
  async *#scan({ from, to }: Range): AsyncGenerator<ColumnBatch> {
    const { file, account, second } = this.#options;
    const reader = this.#readerAt(from);
    for (let at = from; at < to; ) {
      const space = reader.space();
      const count = fill(file, space.subarray(0, to - at), at);
      at = count === 0 ? to : at + count;
      reader.hold(count);
      for (const batch of reader.batches(at === to)) yield account.add(batch, lineBytesOf(batch));
      if (second) {
        await nextTurn();
        this.#shareOut();
      }
    }
    this.#line = reader.place.line;
  }

  #readerAt(byte: number): BulkReader {
    const { engine, layout } = this.#options;
    return new BulkReader(engine, this.#rules, layout, this.#line, byte);
  }

  /** A stretch that the second reader does, or this one from where that one could not go on. */
  async *#await({ from, to }: Range): AsyncGenerator<ColumnBatch> {
    const { account } = this.#options;
    const second = this.#options.second!;
    let at = from;
    let isRefused = !this.#rules.isSettled;
    for (;;) {
      const message = await second.next();
      if (message.kind === "batch") {
        if (!isRefused) {
          const raw = this.#placed(message.notes, message.memory);
          this.#rules.pass(raw.counts);
          yield account.add(raw, (row) => this.#lineAt(raw.firstByte + raw.reads.byte[row]!));
          at += raw.bytes;
          this.#line += raw.lines;
        }
        second.giveBack(message.memory);
      } else {
        isRefused ||= message.kind === "stopped";
        break;
      }
    }
    if (isRefused) yield* this.#scan({ from: at, to });
  }

  /** The second reader does not know how many lines came before its stretch. */
  #placed(notes: BatchNotes, memory: ArrayBuffer): RawBatch {
    const { reads, ambient, verdicts, fields, data } = slabOf(this.#options.layout, memory);
    const before = this.#line - notes.firstLine;
    const items = notes.items.map((item) => this.#moved(item, before));
    const firstLine = notes.firstLine + before;
    return { ...notes, firstLine, items, reads, ambient, verdicts, fields, data, text: null };
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

  #lineAt(byte: number): Uint8Array {
    const window = Buffer.alloc(LINE_LIMIT);
    const count = readSync(this.#options.file, window, 0, LINE_LIMIT, byte);
    const feed = window.subarray(0, count).indexOf(10);
    return window.subarray(0, feed < 0 ? count : feed + 1);
  }
}
