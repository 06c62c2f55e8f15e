/** Whether a tag's calibration holds for a session, and what there is to do about it. */
import type { Series } from "./series.ts";

export interface CalibrationState {
  /** Sensor serial and date; null: none usable. */
  readonly id: string | null;
  readonly lastValidDate: string | null;
  /** Why a calibration or check is due; empty: none is. */
  readonly due: readonly string[];
}

/** `frames` without a usable calibration count only when none was read later. */
export function calibrationState(
  { calibration, counters, samples }: Series,
  id: string | null,
  date: string,
): CalibrationState {
  if (samples.length === 0) return { id: null, lastValidDate: null, due: [] };
  if (!calibration)
    return {
      id: null,
      lastValidDate: null,
      due: ["without calibration: offset 0 and gain 1 are taken, its uncertainty is not known"],
    };
  const due: string[] = [];
  const { lastValidDate, reuseSince, reuseLimit, reuseCount } = calibration;
  if (lastValidDate !== null && date > lastValidDate) due.push(`calibration past its date: valid to ${lastValidDate}`);
  const inForce = Math.max(counters?.reuseCycles ?? 0, reuseCount);
  if (reuseSince > 0 || inForce > reuseCount) due.push("reuse cycles since the calibration: a check is due");
  if (reuseLimit !== null && inForce >= reuseLimit) due.push(`${inForce} reuse cycles of ${reuseLimit}: to be retired`);
  if (calibration.expandedUncertaintyPa === null) due.push("the calibration states no uncertainty");
  return { id, lastValidDate, due };
}
