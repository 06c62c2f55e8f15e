/**
 * Blocks of a pcapng file, either byte order, in bounded memory. A block whose length cannot be true is named with its
 * byte, and the next place where whole blocks stand again is looked for; blocks of unknown types are passed over.
 */
import type { Fault, Reason } from "../../protocol/index.ts";
import {
  BYTE_ORDER_MAGIC,
  COMMENT,
  END_OF_OPTIONS,
  ENHANCED_PACKET,
  INTERFACE,
  LEAST_BLOCK,
  MAJOR_VERSION,
  MOST_KNOWN,
  MOST_UNKNOWN,
  OUTBOUND,
  PACKET_FLAGS,
  padded,
  SECTION,
  SIMPLE_PACKET,
} from "./pcapng-format.ts";

/** A block, or bytes that are none; `byte` is where it starts in the file, `raw` its bytes. */
export type Block = { readonly byte: number; readonly raw: Uint8Array } & (
  | { readonly kind: "section"; readonly comments: readonly string[] }
  | { readonly kind: "interface"; readonly linkType: number }
  | {
      readonly kind: "packet";
      /** Link type of its interface; null when the section has no such interface. */
      readonly linkType: number | null;
      readonly outbound: boolean;
      readonly data: Uint8Array;
    }
  /** A type that is not looked into. */
  | { readonly kind: "other" }
  /** `byte` of the fault is counted from the file's first byte. */
  | { readonly kind: "damage"; readonly fault: Fault }
  /** Further bytes of a damage that was named before. */
  | { readonly kind: "more" }
);

/** A block without its place. */
type Content<B = Block> = B extends Block ? Omit<B, "byte" | "raw"> : never;

/** Bytes that the body of each type we read has at least. */
const LEAST_BODY: ReadonlyMap<number, number> = new Map([
  [SECTION, 16],
  [INTERFACE, 8],
  [SIMPLE_PACKET, 4],
  [ENHANCED_PACKET, 20],
]);

/** Where a block ends, or how it is not one; null: more bytes must come before that can be said. */
type Extent = { readonly type: number; readonly little: boolean; readonly length: number } | Fault | null;

const text = new TextDecoder("utf-8");

/** Takes the file piece by piece, in its order. */
export class BlockReader {
  #held = new Uint8Array(0);
  /** Offset in the file of the first byte held. */
  #byte = 0;
  /** Byte order of the section; null before the first. */
  #little: boolean | null = null;
  #linkTypes: number[] = [];
  /** Whether the last bytes were no block. */
  #lost = false;

  /** Blocks that are whole with these bytes. */
  *push(piece: Uint8Array): Generator<Block> {
    const all = new Uint8Array(this.#held.length + piece.length);
    all.set(this.#held);
    all.set(piece, this.#held.length);
    this.#held = all;
    yield* this.#take(false);
  }

  /** What the end of the file makes of the bytes still held. */
  *end(): Generator<Block> {
    yield* this.#take(true);
  }

  *#take(last: boolean): Generator<Block> {
    let at = 0;
    let junk: { readonly from: number; readonly fault: Fault | null } | null = null;
    while (at < this.#held.length) {
      const extent = this.#extent(at, last);
      if (extent === null) break;
      if ("code" in extent) {
        junk ??= { from: at, fault: this.#lost ? null : extent };
        this.#lost = true;
        at = this.#candidate(at + 4);
        continue;
      }
      if (junk) yield this.#damage(junk.from, at, junk.fault);
      junk = null;
      this.#lost = false;
      const raw = this.#held.slice(at, at + extent.length);
      yield { byte: this.#byte + at, raw, ...this.#content(extent, raw, at) };
      at += extent.length;
    }
    if (junk) yield this.#damage(junk.from, at, junk.fault);
    this.#held = this.#held.slice(at);
    this.#byte += at;
  }

  /** The next place from `at` on, in steps of the four bytes that blocks are aligned to, where one we read may begin. */
  #candidate(at: number): number {
    const view = new DataView(this.#held.buffer, this.#held.byteOffset, this.#held.length);
    let next = at;
    for (; next + 4 <= view.byteLength; next += 4) {
      if (LEAST_BODY.has(view.getUint32(next, this.#little ?? false))) break;
    }
    return Math.min(next, view.byteLength);
  }

  #extent(at: number, last: boolean): Extent {
    const there = this.#held.length - at;
    const short = (expected: string) =>
      last ? this.#fault("record-too-short", at, "block", expected, `${there} bytes`) : null;
    if (there < LEAST_BLOCK) return short(`${LEAST_BLOCK} bytes at least`);
    const view = new DataView(this.#held.buffer, this.#held.byteOffset + at, there);
    const isSection = view.getUint32(0) === SECTION;
    const little = isSection ? view.getUint32(8, true) === BYTE_ORDER_MAGIC : this.#little;
    if (little === null) return this.#fault("marker-mismatch", at, "block.type", "a section header", "another block");
    if (!little && isSection && view.getUint32(8) !== BYTE_ORDER_MAGIC) {
      const found = `0x${view.getUint32(8).toString(16).padStart(8, "0")}`;
      return this.#fault("marker-mismatch", at + 8, "section.byte_order", "0x1a2b3c4d in either order", found);
    }
    const type = view.getUint32(0, little);
    const body = LEAST_BODY.get(type);
    // After damage only what is certainly a block counts as one again.
    if (this.#lost && body === undefined)
      return this.#fault("name-unknown", at, "block.type", "a known block", `${type}`);
    const length = view.getUint32(4, little);
    const most = body === undefined ? MOST_UNKNOWN : MOST_KNOWN;
    const least = LEAST_BLOCK + (body ?? 0);
    if (length < least || length > most || length % 4 !== 0) {
      const expected = `a multiple of 4 from ${least} to ${most}`;
      return this.#fault("count-mismatch", at + 4, "block.length", expected, `${length}`);
    }
    if (there < length) return short(`${length} bytes`);
    const again = view.getUint32(length - 4, little);
    if (again === length) return { type, little, length };
    return this.#fault("count-mismatch", at + length - 4, "block.length", `${length}, as at its start`, `${again}`);
  }

  #content(
    { type, little }: { readonly type: number; readonly little: boolean },
    raw: Uint8Array,
    at: number,
  ): Content {
    const view = new DataView(raw.buffer, raw.byteOffset, raw.length);
    const damaged = (code: Reason, byte: number, path: string, expected: string, actual: string) =>
      ({ kind: "damage", fault: this.#fault(code, at + byte, path, expected, actual) }) as const;
    if (type === SECTION) {
      this.#little = little;
      this.#linkTypes = [];
      const major = view.getUint16(12, little);
      if (major !== MAJOR_VERSION) {
        return damaged("version-unknown", 12, "section.version", `${MAJOR_VERSION}`, `${major}`);
      }
      const options = optionsOf(view, 24, little);
      if (typeof options === "number") return damaged("count-mismatch", options, "section.options", ...OVER);
      return {
        kind: "section",
        comments: options.filter(([code]) => code === COMMENT).map(([, value]) => text.decode(value)),
      };
    }
    if (type === INTERFACE) {
      const linkType = view.getUint16(8, little);
      this.#linkTypes.push(linkType);
      return { kind: "interface", linkType };
    }
    if (type !== SIMPLE_PACKET && type !== ENHANCED_PACKET) return { kind: "other" };
    const simple = type === SIMPLE_PACKET;
    const number = simple ? 0 : view.getUint32(8, little);
    const linkType = this.#linkTypes[number];
    if (linkType === undefined) {
      const found = [`an interface of ${this.#linkTypes.length}`, `interface ${number}`] as const;
      return damaged("name-unknown", 8, "packet.interface", ...found);
    }
    const from = simple ? 12 : 28;
    const room = raw.length - from - 4;
    const length = simple ? Math.min(view.getUint32(8, little), room) : view.getUint32(20, little);
    if (length > room) return damaged("count-mismatch", 20, "packet.length", `${room} bytes at most`, `${length}`);
    const options = simple ? [] : optionsOf(view, from + padded(length), little);
    if (typeof options === "number") return damaged("count-mismatch", options, "packet.options", ...OVER);
    const flags = options.find(([code, value]) => code === PACKET_FLAGS && value.length === 4)?.[1];
    const outbound = flags !== undefined && (flags[little ? 0 : 3]! & 3) === OUTBOUND;
    return { kind: "packet", linkType, outbound, data: raw.subarray(from, from + length) };
  }

  #damage(from: number, to: number, fault: Fault | null): Block {
    const at = { byte: this.#byte + from, raw: this.#held.slice(from, to) };
    return fault === null ? { kind: "more", ...at } : { kind: "damage", fault, ...at };
  }

  #fault(code: Reason, at: number, path: string, expected: string, actual: string): Fault {
    return { code, byte: this.#byte + at, bit: null, path, expected, actual };
  }
}

const OVER = ["options that end in the block", "one that runs past it"] as const;

/** Codes and values of a block's options, or the byte of the block at which one runs past its end. */
function optionsOf(view: DataView, from: number, little: boolean): (readonly [number, Uint8Array])[] | number {
  const options: (readonly [number, Uint8Array])[] = [];
  const end = view.byteLength - 4;
  for (let at = from; at < end; ) {
    if (at + 4 > end) return at;
    const code = view.getUint16(at, little);
    const length = view.getUint16(at + 2, little);
    if (code === END_OF_OPTIONS) break;
    if (at + 4 + padded(length) > end) return at;
    options.push([code, new Uint8Array(view.buffer, view.byteOffset + at + 4, length)]);
    at += 4 + padded(length);
  }
  return options;
}
