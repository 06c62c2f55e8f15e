/** How well a tag is being powered, in one word. */
import type { ReadingRecord, TagPresence } from "../../view/messages.ts";

/** Least share of rounds that brought words for a tag to count as well heard; our choice, no source. */
const FED_SHARE = 0.9;

/** Span of session time over which that share is taken. */
export const SHARE_SPAN_S = 10;

export type PowerWord = "fed" | "patchy" | "starting" | "starving";

export interface Power {
  readonly word: PowerWord;
  /** Cells filled, of three. */
  readonly cells: 1 | 2 | 3;
  readonly supplyV: number | null;
  /** Supply above what the firmware needs, in V; below zero when under it. */
  readonly marginV: number | null;
  /** Share of the last rounds that brought words; null while none is known. */
  readonly share: number | null;
}

export function powerOf(reading: ReadingRecord, supplyLowV: number, share: number | null): Power {
  const { supply_v: supplyV, quality } = reading;
  const marginV = supplyV === null ? null : supplyV - supplyLowV;
  const figures = { supplyV, marginV, share };
  const low = quality.includes("supply_low") || quality.includes("brown_out");
  if (low || (marginV !== null && marginV < 0)) return { ...figures, word: "starving", cells: 1 };
  if (quality.includes("first_after_cold_start")) return { ...figures, word: "starting", cells: 1 };
  if (share !== null && share < FED_SHARE) return { ...figures, word: "patchy", cells: 2 };
  return { ...figures, word: "fed", cells: 3 };
}

interface Count {
  readonly atS: number;
  readonly good: number;
  readonly rounds: number;
}

/** Share of rounds that brought words, over the last seconds, from counts that only ever grow. */
export class HeardShare {
  #counts: Count[] = [];

  add(nowS: number, { seen, failed, missed }: TagPresence): void {
    const last = this.#counts.at(-1);
    // Without known rounds, as in a recording, the share is that of the sightings.
    const count = { atS: nowS, good: seen - failed, rounds: seen + (missed ?? 0) };
    // A server that was started again counts from the beginning.
    if (last && (count.rounds < last.rounds || nowS < last.atS)) this.#counts = [];
    this.#counts.push(count);
    while (this.#counts.length > 2 && this.#counts[1]!.atS <= nowS - SHARE_SPAN_S) this.#counts.shift();
  }

  /** Null while no round passed. */
  get share(): number | null {
    const [first, last] = [this.#counts[0], this.#counts.at(-1)];
    if (!first || !last) return null;
    const rounds = last.rounds - first.rounds;
    if (rounds > 0) return Math.max(0, Math.min(1, (last.good - first.good) / rounds));
    return null;
  }
}
