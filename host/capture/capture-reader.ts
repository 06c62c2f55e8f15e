/** Reads a capture, JSON Lines or CSV, a line at a time and in bounded memory. */
import type { Layout } from "../../protocol/index.ts";
import type { CaptureCounts, CaptureItem } from "./item.ts";
import { LineRules } from "./line-rules.ts";
import { linesOf } from "./lines.ts";

/**
 * Async iterable of the items of a capture; iterate once. Never throws for what the bytes say; an error of the stream itself
 * comes out of the iteration. `name` is what messages call the file.
 */
export class CaptureReader implements AsyncIterable<CaptureItem> {
  readonly #source: AsyncIterable<Uint8Array | string>;
  readonly #rules: LineRules;

  constructor(source: AsyncIterable<Uint8Array | string>, name: string, layout: Layout) {
    this.#source = source;
    this.#rules = new LineRules(name, layout);
  }

  get counts(): CaptureCounts {
    return this.#rules.counts;
  }

  async *[Symbol.asyncIterator](): AsyncGenerator<CaptureItem> {
    let last = 0;
    for await (const line of linesOf(this.#source)) {
      last = line.number;
      yield* this.#rules.take(line);
    }
    yield* this.#rules.end(last);
  }
}
