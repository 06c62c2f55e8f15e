/** Ctrl-C and its like, as a wish to end well: the first one is heard, a second one ends the program at once. */
const SIGNALS = ["SIGINT", "SIGTERM"] as const;

export class Stop {
  #signal: (typeof SIGNALS)[number] | null = null;
  #wake: () => void = () => undefined;
  readonly #hear = (signal: NodeJS.Signals) => {
    this.#signal = signal as (typeof SIGNALS)[number];
    this.release();
    this.#wake();
  };

  constructor() {
    for (const signal of SIGNALS) process.on(signal, this.#hear);
  }

  /** The signal that came; null while there was none. */
  get signal(): (typeof SIGNALS)[number] | null {
    return this.#signal;
  }

  /** Exit status by which a shell knows the signal: 128 and its number. */
  get status(): number {
    return this.#signal === "SIGTERM" ? 143 : 130;
  }

  /** The next element, or null when a signal came while it was waited for. */
  next<T>(elements: AsyncIterator<T>): Promise<IteratorResult<T, unknown> | null> {
    return new Promise((resolve, reject) => {
      this.#wake = () => resolve(null);
      elements.next().then(resolve, reject);
    });
  }

  /** Signals do again what they do by themselves. */
  release(): void {
    for (const signal of SIGNALS) process.removeListener(signal, this.#hear);
  }
}
