/** What a page that comes later is told of the session: points of the traces and the last reading of each tag. */
import type { PastMessage, PastPoint, TimedReading } from "./messages.ts";
import { pointOf } from "./point.ts";

/** Points kept: a few tags for half an hour, many fast ones for less than a minute. */
export const POINTS_KEPT = 12_000;

export class Past {
  readonly #kept: number;
  /** A ring once it is full; `#next` is then the oldest. */
  readonly #points: PastPoint[] = [];
  #next = 0;
  #leftOut = 0;
  readonly #latest = new Map<string, TimedReading>();

  constructor(kept = POINTS_KEPT) {
    this.#kept = kept;
  }

  add(timed: TimedReading): void {
    this.#latest.set(timed.reading.epc, timed);
    const point = pointOf(timed);
    if (!point) return;
    if (this.#points.length < this.#kept) {
      this.#points.push(point);
      return;
    }
    this.#points[this.#next] = point;
    this.#next = (this.#next + 1) % this.#kept;
    this.#leftOut++;
  }

  get isEmpty(): boolean {
    return this.#latest.size === 0;
  }

  message(): PastMessage {
    const points = [...this.#points.slice(this.#next), ...this.#points.slice(0, this.#next)];
    return { type: "past", points, left_out: this.#leftOut, latest: [...this.#latest.values()] };
  }
}
