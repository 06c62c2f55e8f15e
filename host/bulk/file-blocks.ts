/** A file cut into blocks of whole lines, each known by its number. */
import { readSync } from "node:fs";

/** A stretch of a file, `[from, to)`. */
export interface Range {
  readonly from: number;
  readonly to: number;
}

/** Longer than nearly every line. */
const WINDOW = 2048;

/** The first block is short, for nothing can be shared before a good header was read. */
const FIRST_BYTES = 4096;

/** Every block holds the lines that begin in its part of the file: none when a longer line lies there. */
export class FileBlocks {
  readonly count: number;
  readonly #file: number;
  readonly #size: number;
  readonly #bytes: number;
  readonly #window = Buffer.alloc(WINDOW);

  /** `file` is an open file of `size` bytes. */
  constructor(file: number, size: number, bytes: number) {
    this.count = 1 + Math.ceil(Math.max(0, size - FIRST_BYTES) / bytes);
    this.#file = file;
    this.#size = size;
    this.#bytes = bytes;
  }

  /** Where a block lies. Throws the system's error when the file cannot be read. */
  range(block: number): Range {
    return { from: block === 0 ? 0 : this.#end(block - 1), to: this.#end(block) };
  }

  /** Puts what the file holds from `at` on into `space`, and gives the count of bytes, 0 at the end. */
  fill(space: Uint8Array, at: number): number {
    return readSync(this.#file, space, 0, space.length, at);
  }

  #end(block: number): number {
    return this.#lineStart(FIRST_BYTES + block * this.#bytes);
  }

  /** Where the first line begins at or behind a place. */
  #lineStart(from: number): number {
    for (let at = from - 1; at < this.#size; at += WINDOW) {
      const count = this.fill(this.#window, at);
      if (count === 0) break;
      const feed = this.#window.subarray(0, count).indexOf(10);
      if (feed >= 0) return Math.min(this.#size, at + feed + 1);
    }
    return this.#size;
  }
}
