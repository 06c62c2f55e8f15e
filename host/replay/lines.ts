/** Lines of a byte stream, of bounded length. */
export class Lines {
  readonly #limit: number;
  #rest = Buffer.alloc(0);

  /** `limit`: longest line in bytes, without its end. */
  constructor(limit: number) {
    this.#limit = limit;
  }

  /** Whole lines that end in this chunk, without line end; null when a line is longer than the limit. */
  push(chunk: Uint8Array): string[] | null {
    const bytes = Buffer.concat([this.#rest, chunk]);
    const lines: string[] = [];
    let from = 0;
    for (let end = bytes.indexOf(10); end >= 0; end = bytes.indexOf(10, from)) {
      if (end - from > this.#limit) return null;
      lines.push(bytes.toString("utf8", from, end).replace(/\r$/, ""));
      from = end + 1;
    }
    this.#rest = bytes.subarray(from);
    return this.#rest.length > this.#limit ? null : lines;
  }

  /** Bytes behind the last line end. */
  get pending(): number {
    return this.#rest.length;
  }
}
