/** Stretches without a new sample, and the share of the time that has one. */
import type { Sample } from "./series.ts";

export interface Gap {
  readonly fromMs: number;
  readonly toMs: number;
}

export interface Coverage {
  /** In the order of time, only those longer than the limit. */
  readonly gaps: readonly Gap[];
  readonly longestGapS: number;
  /** Of the time from `fromMs` to `toMs`, in percent: the share that lies in no gap. */
  readonly coveredPercent: number;
  readonly limitS: number;
}

/** How old a sample may be before its time counts as a gap: three sampling periods, two seconds at least, as for `stale`. */
export function gapLimitS(samplingPeriodS: number | null): number {
  return Math.max(2, 3 * (samplingPeriodS ?? 0));
}

/** Samples with a pressure count; what lies between a sample and the next, and at either end, is a gap when it is longer than the limit. */
export function coverageOf(samples: readonly Sample[], fromMs: number, toMs: number, limitS: number): Coverage {
  const times = samples.flatMap(({ timeMs, absoluteHpa }) =>
    absoluteHpa === null || timeMs < fromMs || timeMs > toMs ? [] : [timeMs],
  );
  const gaps: Gap[] = [];
  let last = fromMs;
  for (const timeMs of [...times, toMs]) {
    if (timeMs - last > limitS * 1000) gaps.push({ fromMs: last, toMs: timeMs });
    last = Math.max(last, timeMs);
  }
  const lost = gaps.reduce((sum, gap) => sum + gap.toMs - gap.fromMs, 0);
  const longestMs = gaps.reduce((longest, gap) => Math.max(longest, gap.toMs - gap.fromMs), 0);
  const whole = toMs - fromMs;
  return {
    gaps,
    longestGapS: longestMs / 1000,
    coveredPercent: whole <= 0 ? 0 : (100 * (whole - lost)) / whole,
    limitS,
  };
}
