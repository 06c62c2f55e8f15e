/** Replies of a Gen2 tag, from memory of version 2 of the standard. Which kind a string of bits is follows from the command. */
import { BitReader, type Bits, bitsOf, bitsOfWords, sealed, unsealed } from "./bits.ts";

/** Error codes of an error reply. */
export const ERROR = {
  other: 0x00,
  not_supported: 0x01,
  insufficient_privileges: 0x02,
  memory_overrun: 0x03,
  memory_locked: 0x04,
  insufficient_power: 0x0b,
  non_specific: 0x0f,
} as const;

export type Reply =
  /** To a Query, QueryRep or QueryAdjust. */
  | { readonly kind: "rn16"; readonly rn: number }
  /** To an ACK. `xpc` null: the tag sends none. */
  | { readonly kind: "identity"; readonly pc: number; readonly xpc: number | null; readonly epc: readonly number[] }
  /** To an ACK after a Select that asks for it: the EPC's bits behind the mask. */
  | { readonly kind: "truncated"; readonly tail: Bits }
  /** To a Req_RN and to an Access: a handle or an RN16. */
  | { readonly kind: "handle"; readonly handle: number }
  /** To a Read, and to a BlockPermalock that asks for the state. */
  | { readonly kind: "words"; readonly words: readonly number[]; readonly handle: number }
  /** To a command that changed memory; after a delay when that took time. */
  | { readonly kind: "success"; readonly handle: number }
  | { readonly kind: "error"; readonly code: number; readonly handle: number };

/** Bit of the PC word: XPC_W1 follows it. */
const XPC_INDICATOR = 0x0200;

export function encodeReply(reply: Reply): Bits {
  switch (reply.kind) {
    case "rn16":
      return bitsOf(reply.rn, 16);
    case "identity":
      return sealed(bitsOfWords([reply.pc, ...(reply.xpc === null ? [] : [reply.xpc]), ...reply.epc]));
    case "truncated":
      return sealed([0, 0, 0, 0, 0, ...reply.tail]);
    case "handle":
      return sealed(bitsOf(reply.handle, 16));
    case "words":
      return sealed([0, ...bitsOfWords(reply.words), ...bitsOf(reply.handle, 16)]);
    case "success":
      return sealed([0, ...bitsOf(reply.handle, 16)]);
    case "error":
      return sealed([1, ...bitsOf(reply.code, 8), ...bitsOf(reply.handle, 16)]);
  }
}

/** An RN16, which has no checksum; null when it is not 16 bits long. */
export function decodeRn16(bits: Bits): number | null {
  return bits.length === 16 ? new BitReader(bits).number(16) : null;
}

/**
 * Reply to an ACK; null when the checksum or the length by the PC word does not fit. `truncated`: a Select asked for the end
 * of the EPC only, which nothing in the reply itself tells for sure.
 */
export function decodeIdentity(
  bits: Bits,
  truncated: boolean,
): Extract<Reply, { kind: "identity" | "truncated" }> | null {
  const body = unsealed(bits);
  if (!body) return null;
  const reader = new BitReader(body);
  if (truncated) return reader.number(5) === 0 && !reader.short ? { kind: "truncated", tail: body.slice(5) } : null;
  const pc = reader.number(16);
  const xpc = pc & XPC_INDICATOR ? reader.number(16) : null;
  const epc = reader.words(pc >> 11);
  return reader.done ? { kind: "identity", pc, xpc, epc } : null;
}

/** Reply to a Req_RN or an Access; null when the checksum or the length does not fit. */
export function decodeHandle(bits: Bits): number | null {
  const body = bits.length === 32 ? unsealed(bits) : null;
  return body && new BitReader(body).number(16);
}

/** Reply to a command with a handle that brings `count` words back, 0 for none; null when the checksum or the length does not fit. */
export function decodeOutcome(
  bits: Bits,
  count: number,
): Extract<Reply, { kind: "words" | "success" | "error" }> | null {
  const body = unsealed(bits);
  if (!body) return null;
  const reader = new BitReader(body);
  if (reader.number(1) === 1) {
    const [code, handle] = [reader.number(8), reader.number(16)];
    return reader.done ? { kind: "error", code, handle } : null;
  }
  const words = reader.words(count);
  const handle = reader.number(16);
  if (!reader.done) return null;
  return count === 0 ? { kind: "success", handle } : { kind: "words", words, handle };
}
