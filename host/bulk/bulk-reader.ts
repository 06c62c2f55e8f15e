/** From the bytes of a capture to columns: the engine takes what fits a learned order, the rules for single lines the rest. */
import { formatHex, type Layout, makeDecoder, parseHex, recordOf } from "../../protocol/index.ts";
import { copyOf, countsSince, noCounts } from "../capture/counts.ts";
import type { CaptureCounts, CaptureItem } from "../capture/item.ts";
import type { LineRules } from "../capture/line-rules.ts";
import { LINE_LIMIT, type Line } from "../capture/lines.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";
import type { ColumnBatch } from "./batch.ts";
import { type Columns, DATA_BYTES, type Engine, INPUT_BYTES, ROWS, STATE, TAG_BYTES, UNJUDGED } from "./engine.ts";
import { MOST_WORD_BYTES, reportLimits } from "./limits.ts";
import { orderOf } from "./order.ts";

/** A batch before anything is decided that depends on earlier ones. */
export interface RawBatch extends Omit<ColumnBatch, "reads" | "lineBytes"> {
  readonly reads: Columns["reads"];
  readonly odd: Columns["odd"];
  readonly oddRows: number;
  /** The bytes of the batch. */
  readonly text: Uint8Array;
}

/** A batch ends when it has so many items beside its reads: a capture of nothing but faults must not fill the memory. */
const MOST_ITEMS = 2048;

/** Records in a row that do not fit before another order is learned. */
const PATIENCE = 8;

interface PlacedBlock {
  readonly verdicts: Uint16Array;
  readonly bytes: number;
  readonly word: number;
  judge(at: number): number;
}

/** One capture, or one stretch of it. Bytes are put into `space()` and held, then `batches()` gives what came of them. */
export class BulkReader {
  readonly #engine: Engine;
  #rules: LineRules;
  readonly #results: ReadonlyMap<string, number>;
  readonly #banks: ReadonlyMap<string, number>;
  readonly #layout: Layout;
  #blocks: readonly PlacedBlock[] | null = null;
  #held = 0;
  #line = 1;
  #byte = 0;
  /** Within a line that is too long. */
  #broken = false;
  readonly #misses = { read: PATIENCE, ambient: PATIENCE };

  /** What the rules know is of the lines before the first one to come. */
  constructor(engine: Engine, rules: LineRules, layout: Layout) {
    this.#engine = engine;
    this.#rules = rules;
    const { results, banks } = reportLimits(layout);
    this.#results = new Map(results.map(({ id, raw }) => [id, raw]));
    this.#banks = new Map(banks.map(({ id, raw }) => [id, raw]));
    this.#layout = layout;
  }

  /** Goes on with another stretch, whose first line has this number and first byte; the order learned stays. */
  goTo(rules: LineRules, line: number, byte: number): void {
    this.#rules = rules;
    this.#line = line;
    this.#byte = byte;
    this.#held = 0;
    this.#broken = false;
  }

  /** Number of the next line. */
  get line(): number {
    return this.#line;
  }

  /** Where the next bytes belong; at least two mebibytes. */
  space(): Uint8Array {
    return this.#engine.input.subarray(this.#held, INPUT_BYTES);
  }

  /** Says that so many bytes were put into `space()`. */
  hold(count: number): void {
    this.#held += count;
  }

  /** Batches of the whole lines held. With `isEnd` a last line without line end is one too. */
  *batches(isEnd: boolean): Generator<RawBatch> {
    let from = 0;
    while (from < this.#held) {
      const [to, batch] = this.#batch(from, isEnd);
      if (to === from) break;
      yield batch;
      from = to;
    }
    this.#engine.input.copyWithin(0, from, this.#held);
    this.#held -= from;
  }

  /** What there is to say behind the last line, as a batch without lines; null for nothing. */
  end(): RawBatch | null {
    this.#engine.begin(0);
    const before = copyOf(this.#rules.counts);
    const items = [...this.#rules.end(this.#line - 1)];
    return items.length === 0 ? null : this.#made(0, 0, before, items, 0);
  }

  /** The batch that begins at `input[from]`, and where it ends. */
  #batch(from: number, isEnd: boolean): [to: number, batch: RawBatch] {
    const engine = this.#engine;
    const before = copyOf(this.#rules.counts);
    const items: CaptureItem[] = [];
    let fellBack = 0;
    let at = from;
    engine.begin(from);
    while (at < this.#held && !this.#isFull() && items.length < MOST_ITEMS) {
      if (this.#rules.isSettled && !this.#broken) {
        const next = this.#scan(at);
        if (next > at) {
          at = next;
          continue;
        }
      }
      const line = this.#lineAt(at, isEnd);
      if (!line) break;
      if (this.#single(line, at, items)) fellBack++;
      at += line.bytes.length;
    }
    this.#judgeBlocks();
    return [at, this.#made(from, at, before, items, fellBack)];
  }

  #made(from: number, to: number, before: CaptureCounts, items: CaptureItem[], fellBack: number): RawBatch {
    const engine = this.#engine;
    const batch = {
      firstLine: this.#line,
      firstByte: this.#byte,
      lines: engine.state[STATE.lines]!,
      bytes: to - from,
      counts: countsSince(this.#rules.counts, before),
      fellBack,
      rows: engine.state[STATE.rows]!,
      ambientRows: engine.state[STATE.ambientRows]!,
      oddRows: engine.state[STATE.odd]!,
      ...engine.columns,
      data: engine.data,
      tags: this.#tags(),
      items,
      text: engine.input.subarray(from, to),
    };
    this.#line += batch.lines;
    this.#byte += batch.bytes;
    return batch;
  }

  #isFull(): boolean {
    const { state } = this.#engine;
    return (
      state[STATE.rows]! >= ROWS ||
      state[STATE.ambientRows]! >= ROWS ||
      state[STATE.data]! + MOST_WORD_BYTES > DATA_BYTES
    );
  }

  #scan(from: number): number {
    const { state } = this.#engine;
    const [rows, ambientRows] = [state[STATE.rows]!, state[STATE.ambientRows]!];
    const to = this.#engine.scan(from, this.#held);
    const [reads, ambient] = [state[STATE.rows]! - rows, state[STATE.ambientRows]! - ambientRows];
    this.#rules.pass({ ...noCounts(), bytes: to - from, lines: reads + ambient, read: reads, ambient });
    if (reads > 0) this.#misses.read = 0;
    if (ambient > 0) this.#misses.ambient = 0;
    return to;
  }

  /** The line, or the piece of a too long one, at a place; null when its end is not held yet. */
  #lineAt(from: number, isEnd: boolean): Line | null {
    const { input, state } = this.#engine;
    const feed = input.subarray(from, this.#held).indexOf(10);
    const whole = feed < 0 ? this.#held - from : feed + 1;
    const isLast = whole <= LINE_LIMIT;
    if (isLast && feed < 0 && !isEnd) return null;
    const part = this.#broken ? "more" : isLast ? "whole" : "first";
    this.#broken = !isLast;
    const bytes = input.slice(from, from + Math.min(whole, LINE_LIMIT));
    return { number: this.#line + state[STATE.lines]!, bytes, part };
  }

  /** Gives one line to the rules; whether it was one with a record. */
  #single(line: Line, at: number, items: CaptureItem[]): boolean {
    const { state } = this.#engine;
    let isRecord = false;
    let isTaken = false;
    for (const item of this.#rules.take(line)) {
      if ("report" in item) {
        this.#take(item.report, at);
        this.#learn(item.report.kind, line.bytes);
        isTaken = true;
      } else items.push(item);
      isRecord ||= "report" in item || "reject" in item;
    }
    if (!isTaken && !this.#broken) state[STATE.lines]!++;
    return isRecord;
  }

  #learn(kind: "read" | "ambient", line: Uint8Array): void {
    if (++this.#misses[kind] <= PATIENCE) return;
    const order = orderOf(line);
    if (!order) return;
    this.#engine.learn(order);
    this.#misses[kind] = 0;
  }

  #take(report: TagReport | AmbientReport, byte: number): void {
    const engine = this.#engine;
    if (report.kind === "ambient") {
      engine.takeAmbient(byte, report.kitTimeUs, report.pressureRaw, report.temperatureC ?? Number.NaN);
      return;
    }
    const epc = parseHex(report.epc) as Uint8Array;
    engine.tagBytes.set(epc, engine.state[STATE.tags]! * TAG_BYTES);
    let at = engine.state[STATE.data]!;
    for (const word of report.words) {
      engine.data[at++] = word >> 8;
      engine.data[at++] = word;
    }
    engine.takeRead({
      byte,
      kitTimeUs: report.kitTimeUs,
      epcBytes: epc.length,
      pc: report.pc,
      xpc: report.xpc,
      rssiDbm: report.rssiDbm ?? Number.NaN,
      frequencyKhz: report.frequencyKhz,
      result: this.#results.get(report.result)!,
      bank: this.#banks.get(report.bank)!,
      word: report.word,
      dataBytes: 2 * report.words.length,
    });
  }

  /** Calibration blocks and bursts are rare: the plain decoder judges them. */
  #judgeBlocks(): void {
    const { state, columns } = this.#engine;
    if (state[STATE.unjudged] === 0) return;
    const { dataAt, word } = columns.reads;
    this.#blocks ??= blocksOf(this.#layout, this.#engine);
    for (const block of this.#blocks) {
      for (let row = 0; row < state[STATE.rows]!; row++) {
        if (block.verdicts[row] !== UNJUDGED) continue;
        block.verdicts[row] = block.judge(dataAt[row]! + 2 * (block.word - word[row]!));
      }
    }
  }

  #tags(): string[] {
    const { state, tagBytes, tagLengths } = this.#engine;
    return Array.from({ length: state[STATE.tags]! }, (_, i) =>
      formatHex(tagBytes, i * TAG_BYTES, i * TAG_BYTES + tagLengths[i]!),
    );
  }
}

function blocksOf(layout: Layout, { columns, data }: Engine): PlacedBlock[] {
  const user = layout.banks.find(({ id }) => id === "user")!;
  return user.regions.flatMap(({ id, word, record }) => {
    if (record === null) return [];
    const compiled = recordOf(layout, record);
    const decoder = makeDecoder(compiled);
    const raws = new Float64Array(compiled.fields.length);
    const judge = (at: number) => decoder(data, at, at + compiled.bytes, raws);
    return [{ verdicts: columns.verdicts[id]!, bytes: compiled.bytes, word, judge }];
  });
}
