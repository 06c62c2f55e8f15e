/** What becomes of a report: a reading, a waveform, or the reason why there is none. */
import type { Fault, Reason, Slot } from "../../protocol/index.ts";
import type { Band } from "./bands.ts";
import type { Calibration } from "./calibration.ts";
import type { AbsolutePressure, Ambient, GaugePressure } from "./pressure.ts";
import type { QualityId } from "./quality.ts";

/** What reading and waveform share. */
interface Sampled {
  readonly epc: string;
  /** Kit time of the report. */
  readonly kitTimeUs: number;
  readonly sequence: number;
  readonly temperatureC: number | null;
  /** Null: absolute pressure only. */
  readonly ambient: Ambient | null;
  /** Time between first sight of the sample and the ambient; null for a typed ambient and without one. */
  readonly ambientAgeS: number | null;
  /** Null: nominal coefficients. */
  readonly calibration: Calibration | null;
  /** Expanded uncertainty (k = 2) of the gauge pressure; null without a gauge pressure or when a contribution is not known. */
  readonly expandedUncertaintyPa: number | null;
  /** In the order of the closed list. */
  readonly quality: readonly QualityId[];
}

/** One frame of one tag. */
export interface Reading extends Sampled {
  readonly kind: "reading";
  readonly slot: Slot;
  readonly rssiDbm: number | null;
  readonly frequencyKhz: number;
  /** Calibrated; null when the frame holds no pressure. */
  readonly absolute: AbsolutePressure | null;
  readonly gauge: GaugePressure | null;
  readonly band: Band | null;
  readonly supplyV: number | null;
  readonly uptimeS: number;
  /** Whether the time since cold start is at its highest: it was at least that. */
  readonly uptimeSaturated: boolean;
  /** Kit time since the frame was first seen. */
  readonly ageS: number;
  readonly header: TagHeader | null;
  readonly counters: TagCounters | null;
  readonly raw: {
    readonly frame: string;
    readonly status: number;
    readonly pressure: number;
    readonly temperature: number;
    readonly supply: number;
    readonly uptime: number;
  };
}

export interface TagHeader {
  /** `major.minor`. */
  readonly firmware: string;
  readonly samplingPeriodS: number;
  readonly sensorSerial: number;
}

export interface TagCounters {
  readonly reuseCycles: number;
  readonly coldStarts: number;
  /** Cold starts in a row that ended without a frame. */
  readonly fruitlessStarts: number;
  readonly brownOuts: number;
  readonly frames: number;
}

/** A burst: samples at a fixed interval, times counted from the first. */
export interface Waveform extends Sampled {
  readonly kind: "waveform";
  readonly intervalS: number;
  readonly timesS: readonly number[];
  /** Calibrated; null where nothing was sampled. */
  readonly absolute: readonly (AbsolutePressure | null)[];
  /** Null where nothing was sampled, without an ambient, and beyond what the arithmetic is specified for. */
  readonly gauge: readonly (GaugePressure | null)[];
  readonly raw: { readonly burst: string };
}

/** A report without a reading. */
export interface Unread {
  readonly kind: "unread";
  readonly epc: string;
  readonly kitTimeUs: number;
  readonly reason: Reason;
  /** One sentence, without file and line: the caller knows those. */
  readonly sentence: string;
  /** Faults of the records the sentence speaks of. */
  readonly faults: readonly Fault[];
}

export type Outcome = Reading | Waveform | Unread;
