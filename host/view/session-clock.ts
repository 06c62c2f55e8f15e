/**
 * Session time: seconds of the reader's clock since the first report. It goes on when a reader that was lost and found begins
 * its clock anew, by the time that passed on the wall.
 */
export class SessionClock {
  /** Session time less kit time; null: the next report says it. */
  #offsetS: number | null = null;
  readonly #speed: number;
  #lastS = 0;
  #lastMs: number | null = null;

  /** `speed`: seconds of the reader's clock in a second of the wall's. */
  constructor(speed: number) {
    this.#speed = speed;
  }

  /** Another clock follows. */
  anew(): void {
    this.#offsetS = null;
  }

  /** Session time of a report; `nowMs` is the wall's clock, in milliseconds from anywhere. */
  see(kitTimeUs: number, nowMs: number): number {
    this.#offsetS ??= this.nowS(nowMs) - kitTimeUs / 1e6;
    const timeS = kitTimeUs / 1e6 + this.#offsetS;
    if (this.#lastMs === null || timeS > this.#lastS) {
      this.#lastS = timeS;
      this.#lastMs = nowMs;
    }
    return timeS;
  }

  /** Session time now: that of the newest report, and what the wall's clock says since; 0 before the first. */
  nowS(nowMs: number): number {
    if (this.#lastMs === null) return 0;
    return this.#lastS + (Math.max(0, nowMs - this.#lastMs) / 1000) * this.#speed;
  }
}
