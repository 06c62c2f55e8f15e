/** Slow changes: decay of the resting pressure, warming of the cell. */
import type { Interval } from "./posture-intervals.ts";
import { median, robustSlope } from "./robust.ts";
import type { Sample } from "./series.ts";

/** A decay is told only when the resting readings span this long. */
export const DECAY_SPAN_S = 600;

/** Where a trend begins and ends: medians over this share of the readings at either end. */
const END_SHARE = 0.1;

export interface Trend {
  readonly spanS: number;
  readonly samples: number;
  readonly first: number;
  readonly last: number;
  /** Theil-Sen slope, per hour. */
  readonly perHour: number;
}

/** Trend of the resting gauge pressure in mmHg; null when it spans less than DECAY_SPAN_S. */
export function decayOf(samples: readonly Sample[], intervals: readonly Interval[]): Trend | null {
  const resting = intervals.filter(({ posture, worn }) => worn && posture === "resting");
  const inside = samples.filter(({ timeMs }) => resting.some(({ fromMs, toMs }) => timeMs >= fromMs && timeMs <= toMs));
  const trend = trendOf(inside, ({ gaugeMmhg }) => gaugeMmhg);
  return trend && trend.spanS >= DECAY_SPAN_S ? trend : null;
}

/** Trend of the tag's temperature in °C; null with fewer than two of them. */
export function temperatureTrend(samples: readonly Sample[]): Trend | null {
  return trendOf(samples, ({ temperatureC }) => temperatureC);
}

function trendOf(samples: readonly Sample[], of: (sample: Sample) => number | null): Trend | null {
  const points = samples.flatMap((sample) => {
    const value = of(sample);
    return value === null ? [] : [{ hours: sample.timeMs / 3.6e6, value }];
  });
  if (points.length < 2) return null;
  const values = points.map(({ value }) => value);
  const hours = points.map((point) => point.hours - points[0]!.hours);
  const perHour = robustSlope(hours, values);
  if (perHour === null) return null;
  const end = Math.max(1, Math.floor(points.length * END_SHARE));
  return {
    spanS: hours.at(-1)! * 3600,
    samples: points.length,
    first: median(values.slice(0, end)),
    last: median(values.slice(-end)),
    perHour,
  };
}
