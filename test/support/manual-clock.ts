import type { Clock } from "../../host/reader/clock.ts";

/** A clock that stands still until it is told to go on. */
export class ManualClock implements Clock {
  nowMs = 0;
  #timers: { dueMs: number; then: () => void }[] = [];

  after(delayMs: number, then: () => void): () => void {
    const timer = { dueMs: this.nowMs + delayMs, then };
    this.#timers.push(timer);
    return () => {
      this.#timers = this.#timers.filter((other) => other !== timer);
    };
  }

  /** Goes on, and calls what falls due on the way, the earliest first; gives promises their turn in between. */
  async advance(ms: number): Promise<void> {
    const untilMs = this.nowMs + ms;
    for (;;) {
      await new Promise((resolve) => setImmediate(resolve));
      const next = this.#timers.filter(({ dueMs }) => dueMs <= untilMs).sort((a, b) => a.dueMs - b.dueMs)[0];
      if (!next) break;
      this.#timers = this.#timers.filter((timer) => timer !== next);
      this.nowMs = next.dueMs;
      next.then();
    }
    this.nowMs = untilMs;
  }
}
