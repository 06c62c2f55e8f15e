/** A message's first ten bytes: 3 reserved bits, 3 bits of version, 10 bits of type, length and message id, big-endian. */
import type { Fault } from "../model/reasons.ts";

export const HEADER_BYTES = 10;

/** Longest message taken, in bytes: far more than any reader's capabilities, and a bound on what a lie can cost. */
export const MAX_MESSAGE = 1 << 18;

/** Versions spoken: 1 is LLRP 1.0.1, 2 is 1.1. */
export const VERSIONS: readonly number[] = [1, 2];

export interface LlrpHeader {
  readonly version: number;
  readonly type: number;
  /** Bytes of the whole message. */
  readonly length: number;
  readonly id: number;
}

/**
 * Header of the message that begins `bytes`, of which ten bytes must be there. A version that is not spoken is no fault
 * here, for the length is good all the same.
 */
export function readHeader(bytes: Uint8Array): LlrpHeader | Fault {
  const view = new DataView(bytes.buffer, bytes.byteOffset, HEADER_BYTES);
  const first = view.getUint16(0);
  if (first >> 13 !== 0) {
    const found = { expected: "0", actual: `${first >> 13}` };
    return { code: "reserved-bit-set", byte: 0, bit: 13, path: "header.reserved", ...found };
  }
  const length = view.getUint32(2);
  if (length < HEADER_BYTES || length > MAX_MESSAGE) {
    const found = { expected: `${HEADER_BYTES} to ${MAX_MESSAGE} bytes`, actual: `${length}` };
    return { code: "llrp-length-invalid", byte: 2, bit: null, path: "header.length", ...found };
  }
  return { version: first >> 10, type: first & 0x3ff, length, id: view.getUint32(6) };
}
