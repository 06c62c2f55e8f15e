/** A file cut into stretches of whole lines. */
import { readSync } from "node:fs";

/** A stretch of a file, `[from, to)`. */
export interface Range {
  readonly from: number;
  readonly to: number;
}

const WINDOW = 65_536;

/** Stretches of at least `bytes` bytes, one after the other; the last one ends with the file. */
export class FileRanges {
  readonly #file: number;
  readonly #size: number;
  readonly #bytes: number;
  #next = 0;

  /** `file` is an open file of `size` bytes. */
  constructor(file: number, size: number, bytes: number) {
    this.#file = file;
    this.#size = size;
    this.#bytes = bytes;
  }

  /** The next stretch; null when there is none left. Throws the system's error when the file cannot be read. */
  next(): Range | null {
    if (this.#next >= this.#size) return null;
    const range = { from: this.#next, to: this.#lineStart(this.#next + this.#bytes) };
    this.#next = range.to;
    return range;
  }

  /** Where the first line begins at or behind a place. */
  #lineStart(from: number): number {
    const window = Buffer.alloc(WINDOW);
    for (let at = from - 1; at < this.#size; at += WINDOW) {
      const count = readSync(this.#file, window, 0, WINDOW, at);
      if (count === 0) break;
      const feed = window.subarray(0, count).indexOf(10);
      if (feed >= 0) return Math.min(this.#size, at + feed + 1);
    }
    return this.#size;
  }
}

/** Puts what a file holds from `at` on into `space`, and gives the count of bytes, 0 at the end. */
export function fill(file: number, space: Uint8Array, at: number): number {
  return readSync(file, space, 0, space.length, at);
}
