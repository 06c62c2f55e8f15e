/** What is in a stretch of a trace, in figures. */
import type { Trace } from "../store/trace.ts";

export interface Summary {
  readonly samples: number;
  /** Of them, samples without a known uncertainty. */
  readonly unsure: number;
  /** Null without a sample that has a gauge pressure. */
  readonly lowestMmhg: number | null;
  readonly meanMmhg: number | null;
  readonly highestMmhg: number | null;
  /** Stretches without a sample, longer than the limit; the two ends of what is shown count when the trace goes on beyond them. */
  readonly gaps: number;
  readonly longestGapS: number;
}

/** Of the samples from `fromS` to `toS`; time after the last sample counts as a gap once it is longer than the limit. */
export function summaryOf(trace: Trace, fromS: number, toS: number, gapLimitS: number): Summary {
  const [from, to] = [trace.indexAt(fromS), trace.indexAt(toS)];
  let [samples, unsure, sum, lowest, highest] = [0, 0, 0, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let [gaps, longestGapS] = [0, 0];
  let lastS = from > 0 ? Math.max(fromS, trace.timeS(from - 1)) : null;
  const passed = (timeS: number) => {
    if (lastS === null) return;
    const gapS = timeS - lastS;
    if (gapS > gapLimitS) {
      gaps++;
      longestGapS = Math.max(longestGapS, gapS);
    }
  };
  for (let i = from; i < to; i++) {
    const value = trace.gaugeMmhg(i);
    if (Number.isNaN(value)) continue;
    passed(trace.timeS(i));
    lastS = trace.timeS(i);
    samples++;
    if (Number.isNaN(trace.uncertaintyMmhg(i))) unsure++;
    sum += value;
    lowest = Math.min(lowest, value);
    highest = Math.max(highest, value);
  }
  passed(to < trace.length ? Math.min(toS, trace.timeS(to)) : toS);
  const some = samples > 0;
  return {
    samples,
    unsure,
    lowestMmhg: some ? lowest : null,
    meanMmhg: some ? sum / samples : null,
    highestMmhg: some ? highest : null,
    gaps,
    longestGapS,
  };
}

/** Index of the sample nearest to a time, if it is no further than `withinS`; null otherwise. */
export function nearest(trace: Trace, timeS: number, withinS: number): number | null {
  const after = trace.indexAt(timeS);
  const candidates = [after - 1, after].filter((i) => i >= 0 && i < trace.length);
  candidates.sort((a, b) => Math.abs(trace.timeS(a) - timeS) - Math.abs(trace.timeS(b) - timeS));
  const [best] = candidates;
  return best !== undefined && Math.abs(trace.timeS(best) - timeS) <= withinS ? best : null;
}
