/**
 * Frames of the link: body, then CRC-32/ISO-HDLC of the body as four big-endian bytes, byte-stuffed, then one zero as
 * delimiter. What the rules are and why: protocol/LINK.md.
 */
import { makeChecksum } from "../bytes/crc.ts";
import { formatHex } from "../bytes/hex.ts";
import { checksums } from "../model/checksums.ts";
import type { Fault, Reason } from "../model/reasons.ts";
import { maxStuffed, stuff, unstuff } from "./cobs.ts";
import { earliestFrame } from "./rewind.ts";

/** Longest body in bytes: the longest message and room to grow. */
export const MAX_BODY = 1024;

/** Bytes of the link checksum. */
export const CHECKSUM_BYTES = 4;

/** Longest frame in bytes, without its delimiter. */
export const MAX_ENCODED = maxStuffed(MAX_BODY + CHECKSUM_BYTES);

const crc32 = makeChecksum(checksums.crc32);

/** The frame of a body of 1 to MAX_BODY bytes, delimiter included. Throws RangeError for any other length. */
export function encodeFrame(body: Uint8Array): Uint8Array {
  if (body.length < 1 || body.length > MAX_BODY) {
    throw new RangeError(`a link body has 1 to ${MAX_BODY} bytes, not ${body.length}`);
  }
  const sealed = new Uint8Array(body.length + CHECKSUM_BYTES);
  sealed.set(body);
  new DataView(sealed.buffer).setUint32(body.length, crc32(body, 0, body.length));
  const stuffed = stuff(sealed);
  const frame = new Uint8Array(stuffed.length + 1);
  frame.set(stuffed);
  return frame;
}

/** What became of every byte: received = framed + discarded + idle + pending. */
export interface LinkCounts {
  readonly frames: number;
  readonly faults: number;
  /** Bytes pushed so far. */
  readonly received: number;
  /** Bytes of whole frames, delimiters included. */
  readonly framed: number;
  /** Bytes that belong to no whole frame. */
  readonly discarded: number;
  /** Delimiters with nothing before them, which are legal filling. */
  readonly idle: number;
  /** Bytes that wait for their delimiter. */
  readonly pending: number;
}

/**
 * Finds frames in a byte stream cut into chunks anywhere. Bytes before a delimiter that are not one whole frame are one
 * fault; a frame that stands at their end is found all the same, because every possible start is tried, earliest first.
 * Work and memory are bounded: MAX_ENCODED bytes are kept, and a byte costs the same in a long stream as in a short one.
 */
export class Deframer {
  readonly #window = new Uint8Array(4 * MAX_ENCODED);
  readonly #plain = new Uint8Array(MAX_ENCODED);
  #fill = 0;
  #length = 0;
  #frames = 0;
  #faults = 0;
  #received = 0;
  #framed = 0;
  #discarded = 0;
  #idle = 0;

  /** Takes the next bytes of the stream; bodies (fresh arrays) and faults come in the order of the stream. */
  push(chunk: Uint8Array, onBody: (body: Uint8Array) => void, onFault: (fault: Fault) => void): void {
    let from = 0;
    while (from < chunk.length) {
      const zero = chunk.indexOf(0, from);
      const to = zero < 0 ? chunk.length : zero;
      this.#append(chunk, from, to, onFault);
      if (zero < 0) return;
      this.#received++;
      this.#delimit(onBody, onFault);
      from = zero + 1;
    }
  }

  /** The stream is over: bytes that still wait for a delimiter are a fault. */
  end(onFault: (fault: Fault) => void): void {
    if (this.#length === 0) return;
    if (this.#length <= MAX_ENCODED) {
      this.#fault("link-stuffing-invalid", "link", "a delimiter", "the end of the stream", this.#start(), onFault);
    }
    this.#discarded += Math.min(this.#length, MAX_ENCODED);
    this.#clear();
  }

  get counts(): LinkCounts {
    return {
      frames: this.#frames,
      faults: this.#faults,
      received: this.#received,
      framed: this.#framed,
      discarded: this.#discarded,
      idle: this.#idle,
      pending: Math.min(this.#length, MAX_ENCODED),
    };
  }

  #append(chunk: Uint8Array, from: number, to: number, onFault: (fault: Fault) => void): void {
    const before = this.#length;
    this.#length += to - from;
    this.#received += to - from;
    if (this.#length > MAX_ENCODED) {
      this.#discarded += this.#length - Math.max(before, MAX_ENCODED);
      if (before <= MAX_ENCODED) {
        const found = `more than ${MAX_ENCODED} bytes`;
        this.#fault(
          "link-frame-too-long",
          "link",
          `a delimiter in ${MAX_ENCODED} bytes`,
          found,
          this.#start(),
          onFault,
        );
      }
    }
    // Only the last MAX_ENCODED bytes can be part of a frame.
    let at = Math.max(from, to - MAX_ENCODED);
    while (at < to) {
      if (this.#fill === this.#window.length) {
        this.#window.copyWithin(0, this.#fill - MAX_ENCODED);
        this.#fill = MAX_ENCODED;
      }
      const count = Math.min(to - at, this.#window.length - this.#fill);
      this.#window.set(chunk.subarray(at, at + count), this.#fill);
      this.#fill += count;
      at += count;
    }
  }

  #delimit(onBody: (body: Uint8Array) => void, onFault: (fault: Fault) => void): void {
    if (this.#length === 0) {
      this.#idle++;
      return;
    }
    const end = this.#fill;
    const kept = Math.min(this.#length, MAX_ENCODED);
    const first = end - kept;
    let start = this.#length > MAX_ENCODED ? -1 : first;
    let length = start < 0 ? 0 : this.#open(first, end, onFault);
    if (length <= 0) {
      start = earliestFrame(this.#window, first, end, MAX_BODY);
      length = start < 0 ? 0 : unstuff(this.#window, start, end, this.#plain) - CHECKSUM_BYTES;
    }
    if (length > 0) {
      this.#frames++;
      this.#framed += end - start + 1;
      this.#discarded += start - first;
    } else {
      this.#discarded += kept + 1;
    }
    this.#clear();
    if (length > 0) onBody(this.#plain.slice(0, length));
  }

  /** Length of the body of the frame that fills the window from `first`; 0 after reporting why it is none. */
  #open(first: number, end: number, onFault: (fault: Fault) => void): number {
    const plain = this.#plain;
    const length = unstuff(this.#window, first, end, plain) - CHECKSUM_BYTES;
    const at = this.#start() - 1;
    const wrong = (code: Reason, path: string, expected: string, actual: string) => {
      this.#fault(code, path, expected, actual, at, onFault);
      return 0;
    };
    if (length < -CHECKSUM_BYTES) {
      return wrong("link-stuffing-invalid", "link", "codes that end at the delimiter", "a code that runs past it");
    }
    if (length > MAX_BODY) return wrong("link-frame-too-long", "link", `${MAX_BODY} bytes of body`, `${length} bytes`);
    const found = formatHex(plain, Math.max(0, length), Math.max(0, length + CHECKSUM_BYTES));
    if (length < 1) return wrong("link-checksum-mismatch", "link", "a body and its checksum", `0x${found}`);
    const checksum = crc32(plain, 0, length).toString(16).padStart(8, "0");
    return checksum === found ? length : wrong("link-checksum-mismatch", "link", `0x${checksum}`, `0x${found}`);
  }

  /** Offset in the stream of the first byte after the last delimiter, while no delimiter has been taken since. */
  #start(): number {
    return this.#received - this.#length;
  }

  #fault(
    code: Reason,
    path: string,
    expected: string,
    actual: string,
    byte: number,
    onFault: (fault: Fault) => void,
  ): void {
    this.#faults++;
    onFault({ code, byte, bit: null, path, expected, actual });
  }

  #clear(): void {
    this.#fill = 0;
    this.#length = 0;
  }
}
