/** What a file is, by its first bytes. */

import { HEADER_BYTES, readHeader, VERSIONS } from "../../protocol/llrp/header.ts";
import { messageByType } from "../../protocol/llrp/messages.ts";

/** A capture of ours as text, raw LLRP messages, or packets of a network in pcap or pcapng. */
export type FileKind = "text" | "llrp" | "packets";

/** Bytes a file is known by. */
export const KIND_BYTES = HEADER_BYTES;

/** First four bytes of pcap in both byte orders, with microseconds and nanoseconds, and of pcapng. */
const PACKETS = [0xa1b2c3d4, 0xd4c3b2a1, 0xa1b23c4d, 0x4d3cb2a1, 0x0a0d0d0a];

/** No text begins like a LLRP message: its first bytes are below the digits, and its length is written with zeros. */
export function kindOf(first: Uint8Array): FileKind {
  const view = new DataView(first.buffer, first.byteOffset, first.length);
  if (first.length >= 4 && PACKETS.includes(view.getUint32(0))) return "packets";
  return isLlrp(first) ? "llrp" : "text";
}

function isLlrp(first: Uint8Array): boolean {
  if (first.length < HEADER_BYTES) return false;
  const header = readHeader(first, 0);
  return !("code" in header) && VERSIONS.includes(header.version) && messageByType(header.type) !== undefined;
}

/** The first `count` bytes of a stream (fewer when it is shorter), and all of it again. */
export async function peeked(
  source: AsyncIterable<Uint8Array | string>,
  count: number,
): Promise<{ readonly first: Uint8Array; readonly all: AsyncIterable<Uint8Array> }> {
  const pieces = source[Symbol.asyncIterator]();
  const held: Uint8Array[] = [];
  let length = 0;
  let over = false;
  while (length < count && !over) {
    const next = await pieces.next();
    if (next.done) over = true;
    else {
      const piece = typeof next.value === "string" ? Buffer.from(next.value) : next.value;
      held.push(piece);
      length += piece.length;
    }
  }
  async function* all() {
    yield* held;
    if (over) return;
    for (let next = await pieces.next(); !next.done; next = await pieces.next()) {
      yield typeof next.value === "string" ? Buffer.from(next.value) : next.value;
    }
  }
  return { first: Buffer.concat(held).subarray(0, count), all: all() };
}
