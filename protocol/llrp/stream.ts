/** Messages in a byte stream that is cut into chunks anywhere. */
import type { Fault } from "../model/reasons.ts";
import { decodeLlrp } from "./decode.ts";
import { HEADER_BYTES, readHeader } from "./header.ts";
import type { LlrpMessage } from "./vocabulary.ts";

/** What became of every byte: received = taken + refused + discarded + pending. */
export interface LlrpCounts {
  readonly messages: number;
  readonly faults: number;
  readonly received: number;
  /** Bytes of good messages. */
  readonly taken: number;
  /** Bytes of messages that could not be understood, and were passed over by their length. */
  readonly refused: number;
  /** Bytes behind a header that cannot be one: where the next message begins is not known any more. */
  readonly discarded: number;
  /** Bytes that wait for the rest of their message. */
  readonly pending: number;
}

/** Where a message stood in the stream, and its bytes. */
export interface Origin {
  readonly byte: number;
  readonly raw: Uint8Array;
}

export interface LlrpSink {
  readonly onMessage: (message: LlrpMessage, origin: Origin) => void;
  /** Bytes of faults are counted from the first byte of the stream. `origin` null: the stream itself is lost or cut off. */
  readonly onFault: (fault: Fault, origin: Origin | null) => void;
}

/**
 * Takes a stream apart. LLRP has no marker to find back to: after a header with an impossible length nothing more can be
 * read, and `lost` is true. Holds one message at most, and no more bytes of it than came.
 */
export class LlrpStream {
  readonly #sink: LlrpSink;
  #held = new Uint8Array(0);
  #fill = 0;
  /** Bytes of the message under way; 0 until its header is there. */
  #length = 0;
  #lost = false;
  #messages = 0;
  #faults = 0;
  #taken = 0;
  #refused = 0;
  #discarded = 0;

  constructor(sink: LlrpSink) {
    this.#sink = sink;
  }

  get lost(): boolean {
    return this.#lost;
  }

  get counts(): LlrpCounts {
    const received = this.#start + this.#fill + this.#discarded;
    return {
      messages: this.#messages,
      faults: this.#faults,
      received,
      taken: this.#taken,
      refused: this.#refused,
      discarded: this.#discarded,
      pending: this.#fill,
    };
  }

  push(chunk: Uint8Array): void {
    for (let from = 0; from < chunk.length; ) {
      if (this.#lost) {
        this.#discarded += chunk.length - from;
        return;
      }
      const wanted = (this.#length || HEADER_BYTES) - this.#fill;
      const piece = chunk.subarray(from, from + wanted);
      this.#append(piece);
      from += piece.length;
      if (piece.length < wanted) return;
      if (this.#length === 0) this.#header();
      if (this.#length > 0 && this.#fill === this.#length) this.#message();
    }
  }

  /** The stream is over: part of a message is a fault. */
  end(): void {
    if (this.#lost || this.#fill === 0) return;
    const expected = this.#length === 0 ? `${HEADER_BYTES} bytes of a header` : `${this.#length} bytes`;
    const found = { path: "stream", expected, actual: `${this.#fill} bytes` };
    this.#fault({ code: "record-too-short", byte: this.#fill, bit: null, ...found }, null);
    this.#discard();
  }

  /** Bytes before the message under way. */
  get #start(): number {
    return this.#taken + this.#refused;
  }

  #append(piece: Uint8Array): void {
    if (this.#fill + piece.length > this.#held.length) {
      const grown = new Uint8Array(Math.max(64, 2 * (this.#fill + piece.length)));
      grown.set(this.#held.subarray(0, this.#fill));
      this.#held = grown;
    }
    this.#held.set(piece, this.#fill);
    this.#fill += piece.length;
  }

  #header(): void {
    const header = readHeader(this.#held);
    if (!("code" in header)) {
      this.#length = header.length;
      return;
    }
    this.#fault(header, null);
    this.#discard();
  }

  #message(): void {
    const raw = this.#held.slice(0, this.#fill);
    const origin = { byte: this.#start, raw };
    const message = decodeLlrp(raw);
    if ("code" in message) {
      this.#fault(message, origin);
      this.#refused += raw.length;
    } else {
      this.#messages++;
      this.#taken += raw.length;
    }
    this.#fill = 0;
    this.#length = 0;
    if (this.#held.length > 65_536) this.#held = new Uint8Array(0);
    if (!("code" in message)) this.#sink.onMessage(message, origin);
  }

  #fault(fault: Fault, origin: Origin | null): void {
    this.#faults++;
    this.#sink.onFault({ ...fault, byte: this.#start + fault.byte }, origin);
  }

  #discard(): void {
    this.#lost = true;
    this.#discarded += this.#fill;
    this.#fill = 0;
  }
}
