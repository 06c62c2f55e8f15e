/** Accesses that wait for their tag: each is an AccessSpec of its own for one execution, which the reader then drops. */
import type { Clock } from "./clock.ts";
import type { OpResult } from "./llrp-results.ts";
import type { AccessResult } from "./reader.ts";

/** What an access needs of the connection. */
export interface AccessBench {
  /** Takes an AccessSpec away again: the tag did not come. */
  readonly giveUp: (id: number) => void;
  /** Time of the newest report. */
  readonly nowUs: () => number;
}

interface Waiting {
  readonly resolve: (result: AccessResult) => void;
  readonly reject: (error: Error) => void;
  cancel: () => void;
}

/** Numbers of such AccessSpecs; those behind them are for whole inventories. */
const LAST_ID = 0xffff;

export class LlrpAccesses {
  /** AccessSpecs that may stand at once. */
  limit = 4;
  readonly #bench: AccessBench;
  readonly #clock: Clock;
  readonly #timeoutMs: number;
  readonly #waiting = new Map<number, Waiting>();
  readonly #turns: (() => void)[] = [];
  #lastId = 0;
  #closed: Error | undefined;

  constructor(bench: AccessBench, clock: Clock, timeoutMs: number) {
    this.#bench = bench;
    this.#clock = clock;
    this.#timeoutMs = timeoutMs;
  }

  get idle(): boolean {
    return this.#waiting.size === 0;
  }

  /**
   * Begins an access when there is room: `begin` adds and enables the AccessSpec of the number it is given. Resolves with
   * what came of it; `tag_lost` when the tag does not come in time. Rejects when the reader refuses.
   */
  async run(begin: (id: number) => Promise<void>): Promise<AccessResult> {
    while (this.#waiting.size >= this.limit && !this.#closed) {
      await new Promise<void>((turn) => this.#turns.push(turn));
    }
    if (this.#closed) throw this.#closed;
    const id = this.#freeId();
    return new Promise((resolve, reject) => {
      const waiting: Waiting = { resolve, reject, cancel: () => undefined };
      this.#waiting.set(id, waiting);
      begin(id).then(
        () => {
          if (!this.#waiting.has(id)) return;
          waiting.cancel = this.#clock.after(this.#timeoutMs, () => {
            this.#take(id);
            this.#bench.giveUp(id);
            resolve({ result: "tag_lost", words: [], kitTimeUs: this.#bench.nowUs() });
          });
        },
        (error) => {
          this.#take(id);
          reject(error);
        },
      );
    });
  }

  /** Gives a result to the access it belongs to; false when none waits for it. */
  settle(id: number, { result, words }: OpResult, kitTimeUs: number): boolean {
    const waiting = this.#take(id);
    waiting?.resolve({ result, words, kitTimeUs });
    return waiting !== undefined;
  }

  /** Rejects everything, now and later. */
  close(error: Error): void {
    this.#closed = error;
    for (const id of [...this.#waiting.keys()]) this.#take(id)!.reject(error);
    for (const turn of this.#turns.splice(0)) turn();
  }

  #take(id: number): Waiting | undefined {
    const waiting = this.#waiting.get(id);
    if (!waiting) return undefined;
    this.#waiting.delete(id);
    waiting.cancel();
    this.#turns.shift()?.();
    return waiting;
  }

  #freeId(): number {
    do this.#lastId = (this.#lastId % LAST_ID) + 1;
    while (this.#waiting.has(this.#lastId));
    return this.#lastId;
  }
}
