/** The bridge between microcontroller and memory: it may hold words back, and writes them in any order until it settles. */
import type { Cells, Reading } from "./cells.ts";

/** One word write, in the order the firmware asked for it. */
export interface WordWrite {
  readonly word: number;
  readonly value: number;
  /** Writes of one group may reach the cells in any order; a later group's never before an earlier one's. */
  readonly group: number;
}

export class Bridge {
  readonly cells: Cells;
  readonly writes: WordWrite[] = [];
  readonly #reading: Reading;
  readonly #refuses: (call: number) => boolean;
  #group = 0;
  #calls = 0;

  /**
   * `cells` are written through. `reading`: how bits in doubt read. `refuses`: whether the bridge refuses its n-th call,
   * counted from 0 over reads, writes and settles.
   */
  constructor(cells: Cells, reading: Reading = "old", refuses: (call: number) => boolean = () => false) {
    this.cells = cells;
    this.#reading = reading;
    this.#refuses = refuses;
  }

  /** Calls so far. */
  get calls(): number {
    return this.#calls;
  }

  read(word: number, count: number): Uint16Array | null {
    if (this.#refuses(this.#calls++)) return null;
    return this.cells.read(word, count, this.#reading);
  }

  write(word: number, value: number): boolean {
    if (this.#refuses(this.#calls++)) return false;
    this.writes.push({ word, value, group: this.#group });
    this.cells.write(word, value);
    return true;
  }

  settle(): boolean {
    if (this.#refuses(this.#calls++)) return false;
    this.#group++;
    return true;
  }
}
