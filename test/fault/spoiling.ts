/** Damage a line does to bytes: left out, doubled, corrupted, split. */
import type { Random } from "../../sim/random.ts";
import type { Ledger, Piece } from "./marked-frames.ts";

/** Chances for every piece of bytes on the line, or for every step of time. */
export interface Badness {
  readonly drop: number;
  readonly duplicate: number;
  readonly corrupt: number;
  readonly delay: number;
  readonly disconnect: number;
  readonly reboot: number;
}

/** At most so many bytes are left out at once. */
const LONGEST_GAP = 20;

export class Spoiling {
  readonly #random: Random;
  readonly #badness: Badness;

  constructor(random: Random, badness: Badness) {
    this.#random = random;
    this.#badness = badness;
  }

  happens(what: keyof Badness): boolean {
    return this.#random.fraction() < this.#badness[what];
  }

  /** Marked bytes as the line leaves them, in pieces; `ledger` learns what is left out, doubled and changed. */
  ofKit(piece: Piece, ledger: Ledger): Piece[] {
    if (piece.length === 0) return [];
    if (this.happens("drop")) {
      const [from, to] = this.#gap(piece.length);
      ledger.gone(piece.slice(from, to), "left out");
      return [piece.slice(0, from), piece.slice(to)];
    }
    if (this.happens("corrupt")) {
      const byte = piece[this.#below(piece.length)]!;
      byte.value ^= this.#bit();
      byte.changed = true;
      byte.frame.cause ??= "corrupted";
      return [piece];
    }
    const cut = this.#below(piece.length);
    const halves = [piece.slice(0, cut), piece.slice(cut)];
    if (!this.happens("duplicate")) return halves;
    const copy = piece.map((byte) => ({ ...byte }));
    ledger.sent(copy, true);
    return [...halves, copy];
  }

  /** Bytes of a host as the line leaves them. */
  ofHost(bytes: Uint8Array): Uint8Array[] {
    if (this.happens("drop")) {
      const [from, to] = this.#gap(bytes.length);
      return [bytes.slice(0, from), bytes.slice(to)];
    }
    if (this.happens("corrupt")) {
      const copy = bytes.slice();
      copy[this.#below(copy.length)]! ^= this.#bit();
      return [copy];
    }
    return this.happens("duplicate") ? [bytes, bytes] : [bytes];
  }

  #gap(length: number): [number, number] {
    const from = this.#below(length);
    return [from, Math.min(length, from + 1 + this.#below(LONGEST_GAP))];
  }

  #bit(): number {
    return 1 << this.#below(8);
  }

  #below(end: number): number {
    return Math.floor(this.#random.fraction() * end);
  }
}
