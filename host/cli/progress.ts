/** Progress of long work on a terminal: percent, rate and time left, on stderr, out of the way of messages. */
export class Progress {
  readonly #total: number | null;
  readonly #shown: boolean;
  readonly #startMs = performance.now();
  #drawnMs = 0;
  #drawn = false;

  /** `total` bytes; null when it is not known. */
  constructor(total: number | null) {
    this.#total = total;
    // On a terminal that shows the results too, the results are the progress.
    this.#shown = process.stderr.isTTY === true && process.stdout.isTTY !== true;
  }

  bytes(done: number): void {
    const now = performance.now();
    if (!this.#shown || now - this.#drawnMs < 200) return;
    this.#drawnMs = now;
    this.#drawn = true;
    const perSecond = (done / (now - this.#startMs)) * 1000;
    const left = this.#total === null ? "" : `, ${Math.ceil((this.#total - done) / perSecond)} s left`;
    const share = this.#total === null ? "" : `${Math.floor((100 * done) / this.#total)} % `;
    process.stderr.write(`\r\u001b[2K${share}${(perSecond / 1e6).toFixed(1)} MB/s${left}`);
  }

  /** A message that does not run into the progress line. */
  note(line: string): void {
    this.end();
    process.stderr.write(`${line}\n`);
  }

  end(): void {
    if (this.#drawn) process.stderr.write("\r\u001b[2K");
    this.#drawn = false;
  }
}
