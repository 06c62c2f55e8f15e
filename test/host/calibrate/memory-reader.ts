/** A reader with one tag's USER bank in it, whose accesses fail as a test asks. */
import { EventEmitter } from "node:events";
import type {
  AccessResult,
  Reader,
  ReaderCounts,
  ReaderEvents,
  ReadRequest,
  WriteRequest,
} from "../../../host/reader/reader.ts";
import { calibration, counters, EMPTY_SLOT, header, wordsOf } from "../readings/tag-words.ts";

/** Where the calibration copies lie. */
export const [COPY_1, COPY_2] = [40, 56];

export class MemoryReader extends EventEmitter<ReaderEvents> implements Reader {
  readonly info = null;
  readonly counts: ReaderCounts = { reports: 0, faults: 0, discardedBytes: 0, lateAnswers: 0 };
  readonly memory: number[];
  readonly order: string[] = [];
  /** What the access of that number, from 0 on, gives instead of `done`; before or after the write took place. */
  fail: (access: number) => { readonly result: string; readonly done: boolean } | null = () => null;
  #accesses = 0;

  constructor(copy1 = calibration(), copy2 = copy1, reuse = 0) {
    super();
    const record = [header(), EMPTY_SLOT, EMPTY_SLOT, counters({ reuse })].flatMap((bytes) => wordsOf(bytes));
    this.memory = [...record, ...new Array<number>(128).fill(0)].slice(0, 128);
    this.memory.splice(COPY_1!, 16, ...wordsOf(copy1));
    this.memory.splice(COPY_2!, 16, ...wordsOf(copy2));
  }

  get accesses(): number {
    return this.#accesses;
  }

  copy(at: number): number[] {
    return this.memory.slice(at, at + 16);
  }

  async read({ word, count }: ReadRequest): Promise<AccessResult> {
    const failed = this.fail(this.#accesses++);
    this.order.push(`read ${word}+${count}`);
    const words = failed ? [] : this.memory.slice(word, word + count);
    return { result: failed?.result ?? "done", words, kitTimeUs: 0 };
  }

  async write({ word, words }: WriteRequest): Promise<AccessResult> {
    const failed = this.fail(this.#accesses++);
    if (!failed || failed.done) {
      this.order.push(`write ${word}`);
      this.memory.splice(word, words.length, ...words);
    }
    return { result: failed?.result ?? "done", words: [], kitTimeUs: 0 };
  }

  blockWrite = () => Promise.reject(new Error("not asked for"));
  kill = () => Promise.reject(new Error("not asked for"));
  lock = () => Promise.reject(new Error("not asked for"));
  open = () => Promise.reject(new Error("not asked for"));
  setPower = () => Promise.resolve();
  setChannelPlan = () => Promise.resolve();
  startInventory = () => Promise.resolve();
  stopInventory = () => Promise.resolve();
  close = () => Promise.resolve();
}
