/** Choice of the number of slots by what the slots before brought: the algorithm of an annex of Gen2 (from memory). */

/** Least and greatest number of slots: 2^0 and 2^15. */
const HIGHEST = 15;

export class QAlgorithm {
  readonly #step: number;
  #q: number;

  /** `step`: how far one slot moves the estimate, 0.1 to 0.5. */
  constructor(q: number, step = 0.3) {
    this.#q = q;
    this.#step = step;
  }

  /** Rounds with 2^q slots are wanted. */
  get q(): number {
    return Math.round(this.#q);
  }

  empty(): void {
    this.#q = Math.max(0, this.#q - this.#step);
  }

  collision(): void {
    this.#q = Math.min(HIGHEST, this.#q + this.#step);
  }
}
