/** What a file is, by its first bytes. */

import { Deframer } from "../../protocol/index.ts";
import { HEADER_BYTES, readHeader, VERSIONS } from "../../protocol/llrp/header.ts";
import { messageByType } from "../../protocol/llrp/messages.ts";
import { BlockReader } from "./pcapng-blocks.ts";
import { LINK_TYPE, MOST_KNOWN, SECTION } from "./pcapng-format.ts";

/**
 * A capture of ours as text, raw LLRP messages, raw bytes of the link, messages of the link in pcapng, or packets of a
 * network in pcap or pcapng.
 */
export type FileKind = "text" | "llrp" | "link" | "pcapng" | "packets";

/** Bytes by which most files are known. */
export const KIND_BYTES = 64;

/** Bytes in which raw bytes of the link hold a whole frame, unless they are badly damaged. */
const LINK_BYTES = 4096;

/** First four bytes of pcap in both byte orders, with microseconds and nanoseconds. */
const PACKETS = [0xa1b2c3d4, 0xd4c3b2a1, 0xa1b23c4d, 0x4d3cb2a1];

/** The kind, or how many bytes from the beginning must be seen to tell (fewer when the file is shorter). */
export function kindOf(first: Uint8Array, whole: boolean): FileKind | number {
  const view = new DataView(first.buffer, first.byteOffset, first.length);
  const magic = first.length >= 4 ? view.getUint32(0) : 0;
  if (PACKETS.includes(magic)) return "packets";
  if (magic === SECTION) return pcapngKind(first, whole);
  if (isLlrp(first)) return "llrp";
  // Text holds no such bytes, and the codes of byte stuffing are mostly among them.
  if (!first.some((byte) => byte < 9)) return "text";
  if (!whole && first.length < LINK_BYTES) return LINK_BYTES;
  return holdsFrame(first) ? "link" : "text";
}

function holdsFrame(bytes: Uint8Array): boolean {
  const deframer = new Deframer();
  const ignore = () => undefined;
  deframer.push(bytes, ignore, ignore);
  return deframer.counts.frames > 0;
}

/** By the link type of the first interface. */
function pcapngKind(first: Uint8Array, whole: boolean): FileKind | number {
  for (const block of new BlockReader().push(first)) {
    if (block.kind === "interface") return block.linkType === LINK_TYPE ? "pcapng" : "packets";
  }
  return whole || first.length > 2 * MOST_KNOWN ? "packets" : 2 * first.length;
}

/** No text begins like an LLRP message: its first bytes are below the digits, and its length is written with zeros. */
function isLlrp(first: Uint8Array): boolean {
  if (first.length < HEADER_BYTES) return false;
  const header = readHeader(first);
  return !("code" in header) && VERSIONS.includes(header.version) && messageByType(header.type) !== undefined;
}

/** The kind of a stream, and all of it again. */
export async function recognised(
  source: AsyncIterable<Uint8Array>,
): Promise<{ readonly kind: FileKind; readonly all: AsyncIterable<Uint8Array> }> {
  let wanted = KIND_BYTES;
  for (let all = source; ; ) {
    const peek = await peeked(all, wanted);
    all = peek.all;
    const kind = kindOf(peek.first, peek.first.length < wanted);
    if (typeof kind === "string") return { kind, all };
    wanted = kind;
  }
}

/** The first `count` bytes of a stream (fewer when it is shorter), and all of it again. */
export async function peeked(
  source: AsyncIterable<Uint8Array>,
  count: number,
): Promise<{ readonly first: Uint8Array; readonly all: AsyncIterable<Uint8Array> }> {
  const pieces = source[Symbol.asyncIterator]();
  const held: Uint8Array[] = [];
  let length = 0;
  let trouble: unknown = null;
  while (length < count && trouble === null) {
    const next = await pieces.next().catch((error: unknown) => ({ trouble: error }));
    if ("trouble" in next) trouble = next.trouble;
    else if (next.done) break;
    else {
      held.push(next.value);
      length += next.value.length;
    }
  }
  async function* all() {
    yield* held;
    // What the source failed of is told where its bytes end.
    if (trouble !== null) throw trouble;
    for (let next = await pieces.next(); !next.done; next = await pieces.next()) yield next.value;
  }
  return { first: Buffer.concat(held).subarray(0, count), all: all() };
}
