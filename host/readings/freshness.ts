/** How old a tag's newest frame is, by the kit's clock: a battery-less tag has none. */
import { compareSerial } from "../../protocol/index.ts";
import type { QualityId } from "./quality.ts";
import { isStale } from "./stale.ts";

/** Sequences remembered per tag: far below half the number circle, so that a wrapped sequence is never taken for an old one. */
const REMEMBERED = 64;

interface Sight {
  readonly firstUs: number;
  /** The frame's bytes in hex. */
  readonly hex: string;
  readonly firstOfTag: boolean;
}

export interface Age {
  /** Kit time the frame was first seen. */
  readonly firstSeenUs: number;
  readonly ageS: number;
  /** Whether this frame was not seen before. */
  readonly distinct: boolean;
  readonly quality: readonly QualityId[];
}

/** First-seen times of the frames of one tag. */
export class Freshness {
  readonly #sights = new Map<number, Sight>();
  #newest: number | null = null;
  #behind: number | null = null;
  #lastUs = 0;

  /** `samplingPeriodS` null: not known, two seconds count as stale. */
  see(sequence: number, hex: string, kitTimeUs: number, samplingPeriodS: number | null): Age {
    const quality: QualityId[] = [];
    if (kitTimeUs < this.#lastUs) {
      quality.push("kit_time_back");
      for (const [key, sight] of this.#sights) {
        if (sight.firstUs > kitTimeUs) this.#sights.set(key, { ...sight, firstUs: kitTimeUs });
      }
    }
    this.#lastUs = kitTimeUs;

    const known = this.#sights.get(sequence);
    const distinct = known?.hex !== hex;
    if (known) quality.push(distinct ? "sequence_reused" : "repeated");
    const sight = known && !distinct ? known : { firstUs: kitTimeUs, hex, firstOfTag: this.#newest === null };
    if (distinct) this.#remember(sequence, sight);
    if (this.#isBehind(sequence)) quality.push("sequence_back");
    if (sight.firstOfTag) quality.push("first_sight");
    const ageS = (kitTimeUs - sight.firstUs) / 1e6;
    if (isStale(ageS, samplingPeriodS)) quality.push("stale");
    return { firstSeenUs: sight.firstUs, ageS, distinct, quality };
  }

  /**
   * A frame behind the newest is never taken as newer. Only when the frames behind go forward themselves has the tag begun
   * a new count, and the next are measured against that.
   */
  #isBehind(sequence: number): boolean {
    if (this.#newest === null || (compareSerial(sequence, this.#newest) ?? -1) >= 0) {
      this.#newest = sequence;
      this.#behind = null;
      return false;
    }
    if (this.#behind !== null && compareSerial(sequence, this.#behind) === 1) {
      this.#newest = sequence;
      this.#behind = null;
    } else this.#behind = sequence;
    return true;
  }

  #remember(sequence: number, sight: Sight): void {
    this.#sights.delete(sequence);
    this.#sights.set(sequence, sight);
    if (this.#sights.size > REMEMBERED) this.#sights.delete(this.#sights.keys().next().value!);
  }
}
