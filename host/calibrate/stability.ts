/** Whether a load has settled: no trend and little scatter over the last readings. */
import { regress } from "./regression.ts";

export interface StabilityLimits {
  /** Least number of readings, and least time they span: as many of the last as both take are looked at. */
  readonly readings: number;
  readonly spanS: number;
  /** Largest change of their trend over that time, and largest standard deviation about it. */
  readonly changePa: number;
  readonly scatterPa: number;
}

export const usualLimits: StabilityLimits = { readings: 8, spanS: 2, changePa: 5, scatterPa: 10 };

export interface Stability {
  readonly stable: boolean;
  /** Readings looked at: the last so many. */
  readonly count: number;
  /** Change of the trend over the readings looked at, and scatter about it; null with fewer than three. */
  readonly changePa: number | null;
  readonly scatterPa: number | null;
}

export interface TimedPressure {
  readonly timeS: number;
  /** Less ambient, so that the weather is no trend. */
  readonly pressurePa: number;
}

/** Judges the last of the readings, which are in order of time. */
export function judgeStability(readings: readonly TimedPressure[], limits: StabilityLimits): Stability {
  const end = readings.at(-1)?.timeS ?? 0;
  let from = Math.max(0, readings.length - Math.max(3, limits.readings));
  while (from > 0 && end - readings[from]!.timeS < limits.spanS) from--;
  const last = readings.slice(from);
  const span = last.length === 0 ? 0 : end - last[0]!.timeS;
  if (last.length < 3 || span === 0) return { stable: false, count: last.length, changePa: null, scatterPa: null };
  const line = regress({
    columns: [last.map(({ timeS }) => timeS - last[0]!.timeS)],
    response: last.map(({ pressurePa }) => pressurePa),
    intercept: true,
  });
  const changePa = Math.abs(line.coefficients[1]! * span);
  const scatterPa = line.residualSd;
  const enough = last.length >= limits.readings && span >= limits.spanS;
  const stable = enough && changePa <= limits.changePa && scatterPa <= limits.scatterPa;
  return { stable, count: last.length, changePa, scatterPa };
}
