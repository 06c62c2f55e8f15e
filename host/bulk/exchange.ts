/** What two threads share: who takes which block, and whose an engine's memory is. */

/** Engines of the second thread: it scans with one while the first thread looks at the other; more do not stay in the cache. */
export const ENGINES = 2;

/** Places among the words: the next block, how often the second thread spoke, whether the first one has an engine's memory. */
const NEXT_BLOCK = 0;
const SPOKEN = 1;
const GIVEN = 2;

export class Exchange {
  /** Can be posted. */
  readonly memory: SharedArrayBuffer;
  readonly #words: Int32Array;

  /** In memory of its own, or in that of the other thread. */
  constructor(memory = new SharedArrayBuffer((GIVEN + ENGINES) * Int32Array.BYTES_PER_ELEMENT)) {
    this.memory = memory;
    this.#words = new Int32Array(memory);
  }

  /** Says which block is the first to be claimed. */
  begin(block: number): void {
    Atomics.store(this.#words, NEXT_BLOCK, block);
  }

  /** Takes the next block that nobody has begun. */
  claim(): number {
    return Atomics.add(this.#words, NEXT_BLOCK, 1);
  }

  /** Gives the memory of an engine to the first thread. */
  give(engine: number): void {
    Atomics.store(this.#words, GIVEN + engine, 1);
  }

  giveBack(engine: number): void {
    Atomics.store(this.#words, GIVEN + engine, 0);
    Atomics.notify(this.#words, GIVEN + engine);
  }

  /** Sleeps until the memory of an engine was given back. */
  awaitBack(engine: number): void {
    Atomics.wait(this.#words, GIVEN + engine, 1);
  }

  /** Wakes the first thread, for something was said. */
  ring(): void {
    Atomics.add(this.#words, SPOKEN, 1);
    Atomics.notify(this.#words, SPOKEN);
  }

  /** How often it was rung. */
  get rung(): number {
    return Atomics.load(this.#words, SPOKEN);
  }

  /** Sleeps until it is rung once more than `rung` times; whether that was so within so many milliseconds. */
  awaitRing(rung: number, ms: number): boolean {
    return Atomics.wait(this.#words, SPOKEN, rung, ms) !== "timed-out";
  }
}
