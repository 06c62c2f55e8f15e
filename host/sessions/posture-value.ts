/** The value of a site in one posture: a median over a stated window. */
import type { Interval } from "./posture-intervals.ts";
import { median, robustSpread } from "./robust.ts";
import type { Sample } from "./series.ts";
import type { Posture } from "./session-file.ts";

/** The window: the last minute of an interval, without what follows at once on the change and comes just before the next. */
export const WINDOW = { settleS: 3, guardS: 1, longestS: 60, leastSamples: 3 } as const;

export const WINDOW_TEXT = `median over the last ${WINDOW.longestS} s of the interval at most, without its first ${WINDOW.settleS} s and its last ${WINDOW.guardS} s; ${WINDOW.leastSamples} samples at least`;

export interface PostureValue {
  readonly posture: Posture;
  readonly fromMs: number;
  readonly toMs: number;
  readonly samples: number;
  readonly medianMmhg: number;
  /** Spread of the samples in the window as a standard deviation (from the median absolute deviation). */
  readonly spreadMmhg: number;
  /** Expanded (k = 2): the median of the samples'; the median does not shrink what calibration leaves unknown. Null: not known. */
  readonly uncertaintyMmhg: number | null;
}

/** Null without a posture, outside the dressing, or with too few samples. */
export function postureValue(
  samples: readonly Sample[],
  { posture, fromMs, toMs, worn }: Interval,
): PostureValue | null {
  if (posture === null || !worn) return null;
  const lastMs = toMs - WINDOW.guardS * 1000;
  const firstMs = Math.max(fromMs + WINDOW.settleS * 1000, lastMs - WINDOW.longestS * 1000);
  const inside = samples.filter(({ timeMs, gaugeMmhg }) => gaugeMmhg !== null && timeMs >= firstMs && timeMs <= lastMs);
  if (inside.length < WINDOW.leastSamples) return null;
  const mmhg = inside.map(({ gaugeMmhg }) => gaugeMmhg!);
  const known = inside.flatMap(({ uncertaintyMmhg }) => (uncertaintyMmhg === null ? [] : [uncertaintyMmhg]));
  return {
    posture,
    fromMs: firstMs,
    toMs: lastMs,
    samples: inside.length,
    medianMmhg: median(mmhg),
    spreadMmhg: robustSpread(mmhg),
    uncertaintyMmhg: known.length * 2 > inside.length ? median(known) : null,
  };
}
