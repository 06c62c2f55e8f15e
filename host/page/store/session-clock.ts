/** The session's time between two messages of the server. */
export class SessionClock {
  readonly #nowMs: () => number;
  #heardS = 0;
  #heardMs: number;
  #speed = 1;

  /** `nowMs`: a clock that never goes back. */
  constructor(nowMs: () => number) {
    this.#nowMs = nowMs;
    this.#heardMs = nowMs();
  }

  /** The server said that it is now `timeS`; time goes `speed` times as fast as a wall clock from there on. */
  set(timeS: number, speed = this.#speed): void {
    this.#heardS = timeS;
    this.#heardMs = this.#nowMs();
    this.#speed = speed;
  }

  /** Seconds of session time. */
  get nowS(): number {
    return this.#heardS + ((this.#nowMs() - this.#heardMs) / 1000) * this.#speed;
  }

  /** Session time of the last message. */
  get heardS(): number {
    return this.#heardS;
  }

  /** Wall time since the last message. */
  get silentMs(): number {
    return this.#nowMs() - this.#heardMs;
  }
}
