/** Everything that is said of one site. */
import { type LaplaceEstimate, laplace } from "../laplace/laplace.ts";
import { type Band, bandOf } from "../readings/bands.ts";
import { type CalibrationState, calibrationState } from "./calibration-state.ts";
import { classTexts } from "./class-schemes.ts";
import { type Coverage, coverageOf, gapLimitS } from "./coverage.ts";
import type { Interval } from "./posture-intervals.ts";
import { type PostureValue, postureValue, WINDOW } from "./posture-value.ts";
import { median, quantile } from "./robust.ts";
import { type BurstSample, calibrationId, labelOf, type Sample, type Series } from "./series.ts";
import type { PlannedWrap, SessionTag } from "./session-file.ts";
import { type Stiffness, stiffnessOf } from "./stiffness.ts";
import { decayOf, type Trend, temperatureTrend } from "./trend.ts";

export interface WalkingAmplitude {
  readonly bursts: number;
  /** Highest less lowest sample of a burst: the median over the bursts, and the extremes. */
  readonly medianMmhg: number;
  readonly lowMmhg: number;
  readonly highMmhg: number;
  /** Length of the longest burst: a shorter one than a gait cycle shows less than the whole swing. */
  readonly longestS: number;
}

export interface PlannedEstimate extends LaplaceEstimate {
  readonly wrap: PlannedWrap;
  /** First resting value less the thin form; null without a resting value. */
  readonly measuredLessThinMmhg: number | null;
}

export interface SiteSummary {
  readonly label: string;
  readonly tag: SessionTag;
  readonly frames: number;
  readonly failedReads: number;
  readonly invalidFrames: number;
  /** Values of every posture interval, in the order of time. */
  readonly postures: readonly PostureValue[];
  readonly stiffness: readonly Stiffness[];
  readonly walking: WalkingAmplitude | null;
  readonly decay: Trend | null;
  readonly temperature: Trend | null;
  readonly coverage: Coverage;
  /** Of the first resting value; null without one, and without a known uncertainty. */
  readonly band: Band | null;
  /** Classes by scheme, at the ankle sites only; empty without a known uncertainty. */
  readonly classes: readonly string[];
  readonly peak: Sample | null;
  readonly planned: readonly PlannedEstimate[];
  readonly calibration: CalibrationState;
}

/** Sites at which hosiery classes are defined: the ankle. */
const ANKLE_SITES: readonly string[] = ["B", "B1"];

export interface SummaryContext {
  readonly tags: readonly SessionTag[];
  readonly intervals: readonly Interval[];
  readonly wraps: readonly PlannedWrap[];
  readonly fromMs: number;
  readonly toMs: number;
}

export function summariseSite(series: Series, { tags, intervals, wraps, fromMs, toMs }: SummaryContext): SiteSummary {
  const { tag, samples } = series;
  const usable = afterCalibration(series);
  const postures = intervals.flatMap((interval) => postureValue(usable, interval) ?? []);
  const resting = postures.find(({ posture }) => posture === "resting") ?? null;
  const worn = intervals.filter((interval) => interval.worn);
  const from = worn[0]?.fromMs ?? fromMs;
  const to = worn.at(-1)?.toMs ?? toMs;
  const wornSamples = usable.filter(({ timeMs }) => timeMs >= from && timeMs <= to);
  const id = series.calibration === null ? null : calibrationId(series.calibration);
  return {
    label: labelOf(tag, tags),
    tag,
    frames: samples.length,
    failedReads: series.failed,
    invalidFrames: series.invalid,
    postures,
    stiffness: stiffnessOf(postures),
    walking: walkingAmplitude(series.bursts, intervals),
    decay: decayOf(usable, intervals),
    temperature: temperatureTrend(samples),
    coverage: coverageOf(samples, from, to, gapLimitS(series.header?.samplingPeriodS ?? null)),
    band: resting === null ? null : bandOf(resting.medianMmhg, resting.uncertaintyMmhg),
    classes: classesAt(tag.site, resting),
    peak: wornSamples.reduce<Sample | null>(
      (peak, sample) => ((sample.gaugeMmhg ?? -Infinity) > (peak?.gaugeMmhg ?? -Infinity) ? sample : peak),
      null,
    ),
    planned: wraps.filter(({ site }) => site === tag.site).map((wrap) => plannedEstimate(wrap, resting)),
    calibration: calibrationState(series, id, new Date(toMs).toISOString().slice(0, 10)),
  };
}

function classesAt(site: string, resting: PostureValue | null): string[] {
  if (resting === null || resting.uncertaintyMmhg === null || !ANKLE_SITES.includes(site)) return [];
  return classTexts(resting.medianMmhg, resting.uncertaintyMmhg);
}

/** Frames read before the tag's calibration block was are off by its offset: left out where a calibration came later. */
export function afterCalibration({ samples, calibration }: Series): readonly Sample[] {
  return calibration === null ? samples : samples.filter(({ calibrationId: id }) => id !== null);
}

function walkingAmplitude(bursts: readonly BurstSample[], intervals: readonly Interval[]): WalkingAmplitude | null {
  const walking = intervals.filter(({ posture, worn }) => worn && posture === "walking");
  const inside = bursts.filter(({ timeMs, durationS }) =>
    walking.some(({ fromMs, toMs }) => timeMs - (WINDOW.settleS + durationS) * 1000 >= fromMs && timeMs <= toMs),
  );
  if (inside.length === 0) return null;
  const swings = inside.map(({ lowMmhg, highMmhg }) => highMmhg - lowMmhg);
  return {
    bursts: inside.length,
    medianMmhg: median(swings),
    lowMmhg: quantile(swings, 0),
    highMmhg: quantile(swings, 1),
    longestS: quantile(
      inside.map(({ durationS }) => durationS),
      1,
    ),
  };
}

function plannedEstimate(wrap: PlannedWrap, resting: PostureValue | null): PlannedEstimate {
  const estimate = laplace({
    tensionN: wrap.tension_n,
    layers: wrap.layers,
    circumferenceCm: wrap.circumference_cm,
    widthCm: wrap.width_cm,
    layerThicknessMm: wrap.layer_thickness_mm ?? null,
  });
  return { ...estimate, wrap, measuredLessThinMmhg: resting === null ? null : resting.medianMmhg - estimate.thinMmhg };
}
