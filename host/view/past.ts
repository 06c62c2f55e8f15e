/** What a page that comes later is told of the session: points of the traces and the last reading of each tag. */
import { qualities } from "../readings/quality.ts";
import type { PastMessage, PastPoint, TimedReading } from "./messages.ts";

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
    const { reading, time_s } = timed;
    this.#latest.set(reading.epc, timed);
    const { epc, sequence, quality, expanded_uncertainty_mmhg } = reading;
    if (quality.includes("repeated") || quality.includes("sequence_back")) return;
    const invalid = quality.some((id) => qualities[id].severity === "invalid");
    const gauge_mmhg = invalid ? null : reading.gauge_mmhg;
    const point = { epc, sequence, time_s, gauge_mmhg, expanded_uncertainty_mmhg };
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
