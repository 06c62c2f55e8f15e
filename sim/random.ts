/**
 * Seeded pseudo-random numbers: a Weyl sequence (constant step modulo 2^32) whose every state is scrambled by the 32-bit
 * finaliser of MurmurHash3, a bijection. Integer arithmetic only, so a seed gives the same numbers on every machine.
 * Good enough for noise, period 2^32; not for secrets.
 */

/** The finaliser of MurmurHash3 for 32 bits: an unsigned integer below 2^32 for any 32-bit integer. */
export function scramble(value: number): number {
  let mixed = value | 0;
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
  return (mixed ^ (mixed >>> 16)) >>> 0;
}

const STEP = 0x9e3779b9;

export class Random {
  #state: number;

  /**
   * `stream` names what the numbers are for: two streams of one seed do not follow each other, so that a draw more in one
   * leaves the other as it was.
   */
  constructor(seed: number, stream: string) {
    this.#state = scramble(seed);
    for (let i = 0; i < stream.length; i++) this.#state = scramble(this.#state ^ Math.imul(stream.charCodeAt(i), STEP));
  }

  /** Unsigned integer below 2^32. */
  integer(): number {
    this.#state = (this.#state + STEP) | 0;
    return scramble(this.#state);
  }

  /** Number in [0, 1). */
  fraction(): number {
    return this.integer() / 4_294_967_296;
  }

  /** Mean 0, standard deviation 1, bell-shaped: the sum of twelve fractions less six, so never beyond 6 either way. */
  noise(): number {
    let sum = -6;
    for (let i = 0; i < 12; i++) sum += this.fraction();
    return sum;
  }

  /** The items in a random order (Fisher and Yates); the argument is left as it is. */
  shuffled<T>(items: readonly T[]): T[] {
    const out = [...items];
    for (let i = out.length - 1; i > 0; i--) {
      const j = Math.floor(this.fraction() * (i + 1));
      [out[i], out[j]] = [out[j]!, out[i]!];
    }
    return out;
  }
}
