/** Memory cells behind the bridge, word by word, with what a lost supply does to them. */

/** How a bit in doubt reads: as it was, as it should have become, or the upper half one way and the lower the other. */
export const readings = ["old", "new", "mixed"] as const;
export type Reading = (typeof readings)[number];

const NEW_BITS: Readonly<Record<Reading, number>> = { old: 0x0000, new: 0xffff, mixed: 0xff00 };

/** Whether the first or the last bits of a word are the ones that were written before the supply failed. */
export type TornEnd = "msb" | "lsb";

/** A word in whose write the supply failed after `bits` bits, counted from one end: those are new, the others old. */
export function torn(before: number, value: number, bits: number, end: TornEnd): number {
  const written = end === "msb" ? 0xffff & ~(0xffff >> bits) : 0xffff >> (16 - bits);
  return (value & written) | (before & ~written);
}

/** Words of memory. A cell that a write leaves as it is keeps its value, whatever happens to the write. */
export class Cells {
  readonly #old: Uint16Array;
  /** What the words in doubt may read instead; equal elsewhere. */
  readonly #new: Uint16Array;

  constructor(words: ArrayLike<number>, other: ArrayLike<number> = words) {
    this.#old = Uint16Array.from(words);
    this.#new = Uint16Array.from(other);
  }

  copy(): Cells {
    return new Cells(this.#old, this.#new);
  }

  /** Some words, as bits in doubt happen to read. */
  read(word: number, count: number, reading: Reading): Uint16Array {
    const bits = NEW_BITS[reading];
    const words = this.#old.slice(word, word + count);
    for (let i = 0; bits !== 0 && i < count; i++) words[i] = (words[i]! & ~bits) | (this.#new[word + i]! & bits);
    return words;
  }

  write(word: number, value: number): void {
    this.#old[word] = value;
    this.#new[word] = value;
  }

  /** The supply fails while a word is written. */
  tear(word: number, value: number, bits: number, end: TornEnd): void {
    this.#old[word] = torn(this.#old[word]!, value, bits, end);
    this.#new[word] = torn(this.#new[word]!, value, bits, end);
  }

  /** The supply fails while a word is written, and every bit that changes is left between the two: marginal bits. */
  doubt(word: number, value: number): void {
    this.#new[word] = value;
  }

  get inDoubt(): boolean {
    return this.#old.some((word, i) => word !== this.#new[i]);
  }

  /** The same for two memories that no read can tell apart. */
  key(): string {
    return String.fromCharCode(...this.#old, ...(this.inDoubt ? this.#new : []));
  }
}
