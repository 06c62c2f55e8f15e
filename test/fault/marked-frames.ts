/** Frames on a line that spoils them, every byte marked with the frame it belongs to, so that each frame's end is known exactly. */

/** Why a frame never came whole. */
export const CAUSES = ["left out", "corrupted", "nobody connected", "cut off", "still on its way"] as const;
export type Cause = (typeof CAUSES)[number];

export interface MarkedFrame {
  /** What a reader must make of it; null for what no reader reports, such as an answer. */
  readonly key: string | null;
  readonly length: number;
  /** Whole copies that came. */
  arrived: number;
  /** Bytes that are not yet delivered or lost, over all copies. */
  pending: number;
  cause: Cause | null;
}

export interface MarkedByte {
  readonly frame: MarkedFrame;
  /** Place in its frame. */
  readonly at: number;
  value: number;
  changed: boolean;
}

export type Piece = MarkedByte[];

/** Marks the bytes a kit said: whole frames, each ending in the only zero it has. `keyOf` is given a frame with its zero. */
export function marked(bytes: Uint8Array, keyOf: (frame: Uint8Array) => string | null): Piece {
  const piece: Piece = [];
  for (let from = 0; from < bytes.length; ) {
    const end = bytes.indexOf(0, from) + 1;
    if (end === 0) throw new Error("a kit said half a frame");
    const frame = { key: keyOf(bytes.subarray(from, end)), length: end - from, arrived: 0, pending: 0, cause: null };
    for (let at = from; at < end; at++) piece.push({ frame, at: at - from, value: bytes[at]!, changed: false });
    from = end;
  }
  return piece;
}

export function bytesOf(piece: Piece): Uint8Array {
  return Uint8Array.from(piece, ({ value }) => value);
}

/** What became of all frames; nothing is kept of a frame once that is known. */
export class Ledger {
  frames = 0;
  /** Frames of which a whole copy came. */
  kept = 0;
  /** Whole copies beyond the first. */
  doubled = 0;
  readonly lost: { [cause in Cause]: number } = Object.fromEntries(CAUSES.map((cause) => [cause, 0])) as never;
  /** Frames that never came whole although nothing was done to them. */
  unexplained = 0;
  #open = 0;

  /** Frames of which something is still on its way. */
  get open(): number {
    return this.#open;
  }

  /** Bytes set out: first ones, or a copy. */
  sent(piece: Piece, isCopy = false): void {
    for (const { frame, at } of piece) {
      frame.pending++;
      if (at !== 0 || isCopy) continue;
      this.frames++;
      this.#open++;
    }
  }

  /** Bytes that will never come. */
  gone(piece: Piece, cause: Cause): void {
    for (const { frame } of piece) {
      frame.cause ??= cause;
      this.#settle(frame);
    }
  }

  /** A byte that came. */
  came({ frame }: MarkedByte): void {
    this.#settle(frame);
  }

  #settle(frame: MarkedFrame): void {
    if (--frame.pending > 0) return;
    this.#open--;
    if (frame.arrived > 0) {
      this.kept++;
      this.doubled += frame.arrived - 1;
    } else if (frame.cause === null) this.unexplained++;
    else this.lost[frame.cause]++;
  }
}

/** What a receiver must make of the bytes of one connection: a frame is whole when its bytes come one behind the other, unchanged. */
export class Witness {
  /** Bytes that came, those of whole frames, and delimiters with nothing before them. */
  received = 0;
  framed = 0;
  idle = 0;
  /** Bytes since the last delimiter. */
  sinceDelimiter = 0;
  readonly #ledger: Ledger;
  readonly #onWhole: (frame: MarkedFrame) => void;
  #frame: MarkedFrame | null = null;
  #next = 0;

  constructor(ledger: Ledger, onWhole: (frame: MarkedFrame) => void) {
    this.#ledger = ledger;
    this.#onWhole = onWhole;
  }

  see(byte: MarkedByte): void {
    const { frame, at, value, changed } = byte;
    this.received++;
    if (value !== 0) this.sinceDelimiter++;
    else {
      if (this.sinceDelimiter === 0) this.idle++;
      this.sinceDelimiter = 0;
    }
    const goesOn = !changed && frame === this.#frame && at === this.#next;
    if (goesOn) this.#next++;
    else [this.#frame, this.#next] = at === 0 && !changed ? [frame, 1] : [null, 0];
    if (this.#frame === frame && this.#next === frame.length) {
      frame.arrived++;
      this.framed += frame.length;
      this.#frame = null;
      this.#onWhole(frame);
    }
    this.#ledger.came(byte);
  }
}
