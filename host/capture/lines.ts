/** Longest line a capture may have, its line end included; the longest record is below 2 kB. */
export const LINE_LIMIT = 65_536;

/** One line as it came, its line end included. A line beyond the limit comes as one `first` and any number of `more` pieces. */
export interface Line {
  /** Counted from 1. */
  readonly number: number;
  readonly bytes: Uint8Array;
  readonly part: "whole" | "first" | "more";
}

/** Splits a byte stream at line feeds. Holds one line at most, whatever the stream brings. */
export async function* linesOf(source: AsyncIterable<Uint8Array | string>): AsyncGenerator<Line> {
  const held = Buffer.alloc(LINE_LIMIT);
  let length = 0;
  let number = 1;
  let broken = false;

  const take = (last: boolean): Line => {
    const part = broken ? "more" : last ? "whole" : "first";
    const line: Line = { number, bytes: Uint8Array.from(held.subarray(0, length)), part };
    length = 0;
    broken = !last;
    if (last) number++;
    return line;
  };

  for await (const piece of source) {
    const chunk =
      typeof piece === "string" ? Buffer.from(piece) : Buffer.from(piece.buffer, piece.byteOffset, piece.length);
    for (let from = 0; from < chunk.length; ) {
      if (length === LINE_LIMIT) yield take(false);
      const feed = chunk.indexOf(10, from);
      const end = Math.min(feed < 0 ? chunk.length : feed + 1, from + LINE_LIMIT - length);
      chunk.copy(held, length, from, end);
      length += end - from;
      from = end;
      if (held[length - 1] === 10) yield take(true);
    }
  }
  if (length > 0) yield take(true);
}

const decoder = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });

/** Text of a line without its line end and, on the first line, without a byte order mark; null when it is no UTF-8. */
export function textOf(line: Line): string | null {
  try {
    const text = decoder.decode(line.bytes).replace(/\r?\n$/, "");
    return line.number === 1 ? text.replace(/^\uFEFF/, "") : text;
  } catch {
    return null;
  }
}
