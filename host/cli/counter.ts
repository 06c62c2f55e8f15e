/** How far a count has come, on one line of the terminal; nothing where stderr is no terminal. */
export class Counter {
  readonly #noun: string;
  readonly #shown = process.stderr.isTTY === true;
  #drawnMs = 0;
  #drawn = false;

  /** `noun`: what is counted, in the plural. */
  constructor(noun: string) {
    this.#noun = noun;
  }

  show(done: number, total: number): void {
    const now = performance.now();
    if (!this.#shown || now - this.#drawnMs < 100) return;
    this.#drawnMs = now;
    this.#drawn = true;
    process.stderr.write(`\r\u001b[2K${done} of ${total} ${this.#noun}`);
  }

  end(): void {
    if (this.#drawn) process.stderr.write("\r\u001b[2K");
    this.#drawn = false;
  }
}
