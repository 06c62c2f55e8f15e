/**
 * What became of every line and every read of a capture, batch after batch: the same judgements, and the same counts, as
 * when the reads become readings one by one.
 */
import { type Layout, type Reason, reasonByNumber, reasons } from "../../protocol/index.ts";
import { addCounts, noCounts } from "../capture/counts.ts";
import type { CaptureCounts, CaptureItem } from "../capture/item.ts";
import { type ColumnBatch, NOT_HELD, NOT_READ, type ReadColumns } from "./batch.ts";
import type { RawBatch } from "./bulk-reader.ts";
import { ROWS } from "./engine.ts";
import { reportLimits } from "./limits.ts";

/** How often, and in which lines first. */
export interface Refusals {
  count: number;
  readonly lines: number[];
}

/** Lines named for each reason. */
const NAMED_LINES = 3;

const TOO_SHORT = reasons["record-too-short"].number;
const EMPTY = reasons["record-empty"].number;
const LAYOUT = reasons["layout-unknown"].number;
const FINGERPRINT = reasons["fingerprint-mismatch"].number;
const BOTH_BAD = reasons["slots-both-bad"].number;
const CONTRADICT = reasons["slots-contradict"].number;

export class Account {
  readonly lines: CaptureCounts = noCounts();
  fellBack = 0;
  /** Seen without a Read being asked for. */
  sighted = 0;
  /** Reads of another bank, or of USER words that hold no frame and no burst. */
  other = 0;
  frames = 0;
  bursts = 0;
  /** Reads that gave nothing by their reason: what the air said, and what the words were. */
  readonly unread = new Map<Reason, Refusals>();
  /** Lines that could not be read. */
  readonly unreadable = new Map<Reason, Refusals>();
  /** Lines of either kind that are no good, those behind a bad header included. */
  rejected = 0;

  readonly #resultReasons: readonly (Reason | null)[];
  readonly #user: number;
  readonly #frame = new Uint8Array(ROWS);
  readonly #burst = new Uint8Array(ROWS);
  readonly #rejected = new Uint8Array(ROWS);
  /** Tags whose header names another layout or specification, with the number of the reason, since the last capture header. */
  #foreignLayout = new Set<string>();
  #foreignPrint = new Set<string>();

  constructor(layout: Layout) {
    const { results, banks } = reportLimits(layout);
    this.#resultReasons = Array.from({ length: 256 }, (_, raw) => {
      const name = results.find((result) => result.raw === raw)?.id.replaceAll("_", "-");
      return name !== undefined && Object.hasOwn(reasons, name) ? (name as Reason) : null;
    });
    this.#user = banks.find(({ id }) => id === "user")!.raw;
  }

  /** Judges and counts a batch; batches come in the order of the capture. */
  add(batch: RawBatch): ColumnBatch {
    this.#countLines(batch);
    const reads = { ...batch.reads, frame: this.#frame, burst: this.#burst, rejected: this.#rejected };
    let row = 0;
    for (const item of batch.items) {
      if (!("header" in item)) continue;
      const line = (item.place as { line: number }).line - batch.firstLine;
      let end = row;
      while (end < batch.rows && reads.line[end]! < line) end++;
      this.#judge(batch, reads, row, end);
      // Another session: nothing is known of its tags yet.
      this.#foreignLayout = new Set();
      this.#foreignPrint = new Set();
      row = end;
    }
    this.#judge(batch, reads, row, batch.rows);
    return { ...batch, reads, lineBytes: (row) => lineAt(batch.text, reads.byte[row]!) };
  }

  #countLines(batch: RawBatch): void {
    const { counts, fellBack, items } = batch;
    addCounts(this.lines, counts);
    this.fellBack += fellBack;
    for (const item of items) {
      if (!("reject" in item)) continue;
      this.rejected++;
      refuse(this.unreadable, item.reject.reason, lineOf(item));
    }
  }

  #judge(batch: RawBatch, reads: ReadColumns, from: number, to: number): void {
    const { odd, oddRows } = batch;
    this.#frame.fill(0, from, to);
    this.#burst.fill(NOT_HELD, from, to);
    this.#rejected.fill(0, from, to);
    for (let row = from, next = 0; row < to; row++) {
      if (this.#areOurs) {
        // There is nothing to decide up to the next odd row: each gives its frame.
        while (next < oddRows && odd[next]! < row) next++;
        const plain = next < oddRows ? Math.min(odd[next]!, to) : to;
        this.frames += plain - row;
        row = plain;
        if (row === to) break;
      }
      this.#judgeRow(batch, reads, row);
    }
  }

  #judgeRow(batch: RawBatch, reads: ReadColumns, row: number): void {
    const { header, slot_a: a, slot_b: b, burst } = batch.verdicts;
    this.#frame[row] = NOT_HELD;
    if (reads.result[row] !== 0) this.#failed(batch.firstLine + reads.line[row]!, reads.result[row]!);
    else if (reads.bank[row] !== this.#user) this.other++;
    else {
      const head = header![row]!;
      if (head !== NOT_READ && head >> 8 !== TOO_SHORT) this.#meet(batch.tags[reads.tag[row]!]!, head);
      this.#judgeUser(batch, reads, row, a![row]!, b![row]!, burst![row]!);
    }
  }

  #judgeUser(batch: RawBatch, reads: ReadColumns, row: number, a: number, b: number, c: number): void {
    const isPartial = reads.partial[row] !== 0;
    const hasSlots = a !== NOT_READ || b !== NOT_READ;
    const line = batch.firstLine + reads.line[row]!;
    if (!hasSlots && c === NOT_READ) {
      if (isPartial) this.#reject(row, TOO_SHORT, line);
      else this.other++;
      return;
    }
    const foreign = this.#foreign(batch.tags[reads.tag[row]!]!);
    if (foreign !== 0) {
      if (hasSlots) this.#frame[row] = foreign;
      if (c !== NOT_READ) this.#burst[row] = foreign;
      this.#reject(row, foreign, line);
      return;
    }
    if (isPartial) this.#reject(row, TOO_SHORT, line);
    if (hasSlots) {
      const isWhole = isHeld(a) && isHeld(b);
      const reason = !isWhole ? TOO_SHORT : reads.slot[row] !== 0 ? 0 : slotsReason(a, b);
      this.#frame[row] = reason;
      if (reason === 0) this.frames++;
      else if (isWhole) this.#reject(row, reason, line);
    }
    if (c !== NOT_READ) {
      this.#burst[row] = c >> 8;
      if (c === 0) this.bursts++;
      else if (isHeld(c)) this.#reject(row, c >> 8, line);
    }
  }

  #failed(line: number, result: number): void {
    const reason = this.#resultReasons[result];
    if (reason) refuse(this.unread, reason, line);
    else this.sighted++;
  }

  #reject(row: number, reason: number, line: number): void {
    if (this.#rejected[row] === 0) {
      this.#rejected[row] = reason;
      this.rejected++;
    }
    refuse(this.unread, reasonByNumber(reason)!, line);
  }

  /** Takes in what the header of a tag says; `head` is the verdict on it. */
  #meet(epc: string, head: number): void {
    const reason = head >> 8;
    if (reason === LAYOUT) this.#foreignLayout.add(epc);
    else if (this.#foreignLayout.size > 0) this.#foreignLayout.delete(epc);
    if (reason === FINGERPRINT) this.#foreignPrint.add(epc);
    else if (head === 0 && this.#foreignPrint.size > 0) this.#foreignPrint.delete(epc);
  }

  get #areOurs(): boolean {
    return this.#foreignLayout.size + this.#foreignPrint.size === 0;
  }

  #foreign(epc: string): number {
    return this.#foreignLayout.has(epc) ? LAYOUT : this.#foreignPrint.has(epc) ? FINGERPRINT : 0;
  }
}

function isHeld(verdict: number): boolean {
  return verdict !== NOT_READ && verdict >> 8 !== TOO_SHORT;
}

/** Two slots of another layout, or two never written, are called that. */
function slotsReason(a: number, b: number): number {
  if (a === 0 && b === 0) return CONTRADICT;
  if (a >> 8 === LAYOUT || b >> 8 === LAYOUT) return LAYOUT;
  return a >> 8 === EMPTY && b >> 8 === EMPTY ? EMPTY : BOTH_BAD;
}

function lineAt(text: Uint8Array, from: number): Uint8Array {
  const feed = text.indexOf(10, from);
  return text.subarray(from, feed < 0 ? text.length : feed + 1);
}

function refuse(refusals: Map<Reason, Refusals>, reason: Reason, line: number): void {
  let found = refusals.get(reason);
  if (!found) refusals.set(reason, (found = { count: 0, lines: [] }));
  found.count++;
  if (found.lines.length < NAMED_LINES) found.lines.push(line);
}

function lineOf(item: CaptureItem): number {
  return (item.place as { line: number }).line;
}
