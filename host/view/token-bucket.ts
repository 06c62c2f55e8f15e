/** So many at once, and so many a second over a while. */
export class TokenBucket {
  readonly #perSecond: number;
  readonly #burst: number;
  #tokens: number;
  #atMs: number;

  constructor(perSecond: number, burst: number, nowMs: number) {
    this.#perSecond = perSecond;
    this.#burst = burst;
    this.#tokens = burst;
    this.#atMs = nowMs;
  }

  /** Whether one more may pass now. */
  take(nowMs: number): boolean {
    this.#tokens = Math.min(this.#burst, this.#tokens + (Math.max(0, nowMs - this.#atMs) / 1000) * this.#perSecond);
    this.#atMs = nowMs;
    if (this.#tokens < 1) return false;
    this.#tokens--;
    return true;
  }
}
