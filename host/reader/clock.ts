/** Timers, so that what waits can be tested without waiting. */
export interface Clock {
  /** Calls `then` once after `delayMs`, unless the function returned is called first. */
  after(delayMs: number, then: () => void): () => void;
}

export const systemClock: Clock = {
  after(delayMs, then) {
    const timer = setTimeout(then, delayMs);
    return () => clearTimeout(timer);
  },
};
