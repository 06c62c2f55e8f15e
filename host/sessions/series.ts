/** What one tag brought over a session, by UTC. */
import type { Calibration } from "../readings/calibration.ts";
import { PASCAL_PER_MMHG, toHpa, toMmhg } from "../readings/pressure.ts";
import { type QualityId, qualities } from "../readings/quality.ts";
import type { Reading, TagCounters, TagHeader, Waveform } from "../readings/reading.ts";
import type { SessionTag } from "./session-file.ts";

/** `ambient_log`: a separate log, merged by time. */
export type AmbientOrigin = "kit_barometer" | "outside_tag" | "typed" | "ambient_log" | "none";

/** One frame, first seen. */
export interface Sample {
  /** UTC, milliseconds since 1970. */
  readonly timeMs: number;
  readonly kitTimeUs: number;
  readonly sequence: number;
  /** Null: absolute pressure only, or none. */
  readonly gaugeMmhg: number | null;
  readonly absoluteHpa: number | null;
  /** Expanded (k = 2); null when a contribution is not known. */
  readonly uncertaintyMmhg: number | null;
  readonly temperatureC: number | null;
  readonly supplyV: number | null;
  readonly rssiDbm: number | null;
  readonly ambientHpa: number | null;
  readonly ambientOrigin: AmbientOrigin;
  readonly calibrationId: string | null;
  readonly quality: readonly QualityId[];
}

/** One burst, first seen. */
export interface BurstSample {
  readonly timeMs: number;
  readonly durationS: number;
  readonly lowMmhg: number;
  readonly highMmhg: number;
  readonly samples: number;
}

export interface Series {
  readonly tag: SessionTag;
  readonly samples: Sample[];
  readonly bursts: BurstSample[];
  /** Reads that gave no reading. */
  failed: number;
  /** Frames left out because an invalid flag stands beside them. */
  invalid: number;
  calibration: Calibration | null;
  header: TagHeader | null;
  counters: TagCounters | null;
  /** How often each flag stood beside a distinct frame. */
  readonly flags: Partial<Record<QualityId, number>>;
}

export function emptySeries(tag: SessionTag): Series {
  const known = { calibration: null, header: null, counters: null };
  return { tag, samples: [], bursts: [], failed: 0, invalid: 0, ...known, flags: {} };
}

/** Sensor serial and calibration date: enough to find the certificate. */
export function calibrationId({ sensorSerial, date }: Calibration): string {
  return `${sensorSerial}@${date ?? "undated"}`;
}

/** Site, and the layer where several tags lie at it. */
export function labelOf({ site, layer }: SessionTag, all: readonly SessionTag[]): string {
  const shared = all.filter((tag) => tag.site === site).length > 1;
  return shared ? `${site}, layer ${layer ?? "not stated"}` : site;
}

/** Takes in a reading that is no repetition. Frames with an invalid flag are counted, and keep no pressure. */
export function addReading(series: Series, reading: Reading, timeMs: number, origin: AmbientOrigin): void {
  const { gauge, absolute, expandedUncertaintyPa, quality } = reading;
  for (const id of quality) series.flags[id] = (series.flags[id] ?? 0) + 1;
  const sound = quality.every((id) => qualities[id].severity !== "invalid");
  if (!sound) series.invalid++;
  series.calibration = reading.calibration ?? series.calibration;
  series.header = reading.header ?? series.header;
  series.counters = reading.counters ?? series.counters;
  series.samples.push({
    timeMs,
    kitTimeUs: reading.kitTimeUs,
    sequence: reading.sequence,
    gaugeMmhg: gauge === null || !sound ? null : toMmhg(gauge),
    absoluteHpa: absolute === null || !sound ? null : toHpa(absolute),
    uncertaintyMmhg: expandedUncertaintyPa === null ? null : expandedUncertaintyPa / PASCAL_PER_MMHG,
    temperatureC: reading.temperatureC,
    supplyV: reading.supplyV,
    rssiDbm: reading.rssiDbm,
    ambientHpa: reading.ambient === null ? null : toHpa(reading.ambient.pressure),
    ambientOrigin: reading.ambient === null ? "none" : origin,
    calibrationId: reading.calibration === null ? null : calibrationId(reading.calibration),
    quality,
  });
}

/** Takes in a waveform that is no repetition; one without a gauge pressure is left out. */
export function addWaveform(series: Series, { gauge, quality, timesS }: Waveform, timeMs: number): void {
  if (quality.includes("repeated") || quality.some((id) => qualities[id].severity === "invalid")) return;
  const mmhg = gauge.flatMap((sample) => (sample === null ? [] : [toMmhg(sample)]));
  if (mmhg.length < 2) return;
  series.bursts.push({
    timeMs,
    durationS: timesS.at(-1)!,
    lowMmhg: Math.min(...mmhg),
    highMmhg: Math.max(...mmhg),
    samples: mmhg.length,
  });
}
