/** Which calibration a tag's readings are made with, and what there is to say about it. */
import {
  type Coefficients,
  type DecodedRecord,
  type Fault,
  isFault,
  nameOf,
  physicalOf,
  rawOf,
} from "../../protocol/index.ts";
import { NOMINAL } from "./pressure.ts";
import type { QualityId } from "./quality.ts";
import { isoDate, lastValidDate } from "./validity.ts";

/** A copy as last read: decoded, at fault, or null when it was never in a read. */
export type Copy = DecodedRecord | Fault | null;

export interface Calibration {
  readonly copy: 1 | 2;
  readonly coefficients: Coefficients;
  readonly method: string;
  /** ISO date; null when not stated. */
  readonly date: string | null;
  readonly lastValidDate: string | null;
  readonly sensorSerial: number;
  /** Expanded uncertainty (k = 2) of a gauge pressure, ambient excluded; null when not stated. */
  readonly expandedUncertaintyPa: number | null;
  readonly temperatureLowC: number;
  readonly temperatureHighC: number;
  readonly spanHpa: number;
  /** Reuse cycles over the tag's life. */
  readonly reuseCount: number;
  /** Reuse cycles since this calibration; at its highest value: at least that many. */
  readonly reuseSince: number;
  /** Null when not limited. */
  readonly reuseLimit: number | null;
}

export interface CalibrationChoice {
  /** Null: nothing usable, nominal coefficients are taken. */
  readonly calibration: Calibration | null;
  readonly coefficients: Coefficients;
  readonly quality: readonly QualityId[];
}

/**
 * Copy 1 when whole, else copy 2. A copy of another sensor counts as not there. `sensorSerial` is the header's, null when
 * it is not known.
 */
export function chooseCalibration(first: Copy, second: Copy, sensorSerial: number | null): CalibrationChoice {
  if (first === null && second === null) return without("calibration_not_read");
  const whole = [first, second].map((copy) => (copy && !isFault(copy) ? copy : null));
  if (!whole[0] && !whole[1]) return without("calibration_unreadable");
  const quality: QualityId[] = [];
  if (whole[0] && whole[1] && differ(whole[0], whole[1])) quality.push("calibration_copies_differ");
  const index = whole.findIndex(
    (copy) => copy && (sensorSerial === null || rawOf(copy, "sensor_serial") === sensorSerial),
  );
  if (index < 0) return without("calibration_other_sensor", ...quality);
  if (sensorSerial === null) quality.push("calibration_unverified");
  if (index === 1) quality.push("calibration_second_copy");
  const calibration = calibrationOf(whole[index]!, index === 0 ? 1 : 2);
  if (calibration.expandedUncertaintyPa === null) quality.push("calibration_uncertainty_not_stated");
  return { calibration, coefficients: calibration.coefficients, quality };
}

/**
 * What the session's date and the counters' reuse cycles say of a calibration; null where they are not known. The higher of
 * the counters' and the block's cycles is in force; counters ahead of the block mean that the block is an older one.
 */
export function judgeCalibration(
  { date, lastValidDate, reuseCount, reuseSince, reuseLimit }: Calibration,
  sessionDate: string | null,
  reuseCycles: number | null,
): QualityId[] {
  const quality: QualityId[] = [];
  if (sessionDate === null || date === null) quality.push("calibration_age_unknown");
  else if (sessionDate < date) quality.push("calibration_dated_later");
  else if (lastValidDate !== null && sessionDate > lastValidDate) quality.push("calibration_expired");
  if (reuseCycles === null) quality.push("counters_unreadable");
  const inForce = Math.max(reuseCycles ?? 0, reuseCount);
  if (reuseSince > 0 || inForce > reuseCount) quality.push("reuse_since_calibration");
  if (reuseLimit !== null && inForce >= reuseLimit) quality.push("reuse_limit_reached");
  return quality;
}

function without(...quality: QualityId[]): CalibrationChoice {
  return { calibration: null, coefficients: NOMINAL, quality: ["uncalibrated", ...quality] };
}

function differ(a: DecodedRecord, b: DecodedRecord): boolean {
  return a.record.fields.some((_, index) => a.raws[index] !== b.raws[index]);
}

function calibrationOf(block: DecodedRecord, copy: 1 | 2): Calibration {
  const raw = (id: string) => rawOf(block, id);
  const day = physicalOf(block, "date");
  const months = physicalOf(block, "validity");
  return {
    copy,
    coefficients: {
      offset: raw("offset"),
      gain: raw("gain"),
      temperatureEffect: raw("temperature_effect"),
      gainTemperature: raw("gain_temperature"),
      curvature: raw("curvature"),
      referenceTemperature: raw("reference_temperature"),
    },
    method: nameOf(block, "method"),
    date: day === null ? null : isoDate(day),
    lastValidDate: day === null || months === null ? null : lastValidDate(day, months),
    sensorSerial: raw("sensor_serial"),
    expandedUncertaintyPa: physicalOf(block, "expanded_uncertainty"),
    temperatureLowC: physicalOf(block, "temperature_low")!,
    temperatureHighC: physicalOf(block, "temperature_high")!,
    spanHpa: physicalOf(block, "span")!,
    reuseCount: raw("reuse_count"),
    reuseSince: physicalOf(block, "reuse_since")!,
    reuseLimit: physicalOf(block, "reuse_limit"),
  };
}
