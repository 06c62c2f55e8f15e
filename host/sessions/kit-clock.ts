/** From the reader's clock to UTC, one capture at a time. */

/** A kit time that goes back, or UTC that does, begins a new stretch; what goes on in between nobody knows. */
export class KitClock {
  readonly #startedMs: number;
  #anchorMs: number;
  #anchorUs: number | null = null;
  #lastUs = 0;

  /** `startedMs`: UTC of the first report. */
  constructor(startedMs: number) {
    this.#startedMs = startedMs;
    this.#anchorMs = startedMs;
  }

  /** Places a report; the number of seconds the kit's clock went back, 0 when it did not. */
  place(kitTimeUs: number): number {
    const backUs = this.#anchorUs === null ? 0 : Math.max(0, this.#lastUs - kitTimeUs);
    if (this.#anchorUs === null) this.#anchorUs = kitTimeUs;
    else if (backUs > 0) {
      this.#anchorMs = this.utcMs(this.#lastUs);
      this.#anchorUs = kitTimeUs;
    }
    this.#lastUs = kitTimeUs;
    return backUs / 1e6;
  }

  /** UTC of a kit time of the present stretch. */
  utcMs(kitTimeUs: number): number {
    return this.#anchorMs + (kitTimeUs - (this.#anchorUs ?? kitTimeUs)) / 1000;
  }

  get lastMs(): number {
    return this.#anchorUs === null ? this.#startedMs : this.utcMs(this.#lastUs);
  }
}
