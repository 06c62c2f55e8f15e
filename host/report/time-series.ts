/** A site's samples as points of a plot: few enough to draw, and broken where there was a gap. */
import type { Gap } from "../sessions/coverage.ts";
import type { Sample } from "../sessions/series.ts";

export interface PlotPoint {
  readonly site: string;
  /** In the unit of the axis, from the beginning of the session. */
  readonly time: number;
  /** Null: the line is broken here. */
  readonly value: number | null;
}

export interface TimeAxis {
  readonly fromMs: number;
  readonly unitMs: number;
  readonly label: string;
}

/** Seconds up to five minutes, minutes up to three hours, hours beyond. */
export function timeAxis(fromMs: number, toMs: number): TimeAxis {
  const spanS = (toMs - fromMs) / 1000;
  const [unitMs, unit] = spanS <= 300 ? [1000, "s"] : spanS <= 10_800 ? [60_000, "min"] : [3_600_000, "h"];
  return { fromMs, unitMs, label: `time in ${unit} from ${new Date(fromMs).toISOString().slice(0, 19)}Z` };
}

/** Buckets a line is thinned to: each keeps its lowest and highest value in their order. */
const BUCKETS = 600;

/** Gaps wide enough to be seen in a plot from `fromMs` to `toMs`: of a shorter one, thousands would leave no line at all. */
export function visibleGaps(gaps: readonly Gap[], fromMs: number, toMs: number): Gap[] {
  return gaps.filter((gap) => gap.toMs - gap.fromMs > (toMs - fromMs) / BUCKETS);
}

/** `gaps`: where the line is broken. */
export function plotPoints(
  site: string,
  samples: readonly Sample[],
  of: (sample: Sample) => number | null,
  gaps: readonly Gap[],
  { fromMs, unitMs }: TimeAxis,
): PlotPoint[] {
  const known = samples.flatMap((sample) => {
    const value = of(sample);
    return value === null ? [] : [{ timeMs: sample.timeMs, value }];
  });
  const points: { timeMs: number; value: number | null }[] = thinned(known);
  for (const { fromMs: from, toMs } of gaps) points.push({ timeMs: (from + toMs) / 2, value: null });
  points.sort((a, b) => a.timeMs - b.timeMs);
  return points.map(({ timeMs, value }) => ({ site, time: (timeMs - fromMs) / unitMs, value }));
}

function thinned(points: readonly { timeMs: number; value: number }[]): { timeMs: number; value: number }[] {
  if (points.length <= 2 * BUCKETS) return [...points];
  const kept: { timeMs: number; value: number }[] = [];
  const size = points.length / BUCKETS;
  for (let bucket = 0; bucket < BUCKETS; bucket++) {
    const inside = points.slice(Math.floor(bucket * size), Math.floor((bucket + 1) * size));
    const low = inside.reduce((a, b) => (b.value < a.value ? b : a));
    const high = inside.reduce((a, b) => (b.value > a.value ? b : a));
    kept.push(...(low === high ? [low] : [low, high].sort((a, b) => a.timeMs - b.timeMs)));
  }
  return kept;
}
