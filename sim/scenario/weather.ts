/** Ambient pressure: the same at the tags and at the kit; the 12 Pa of a metre's difference in height is left out. */
export interface Weather {
  readonly basePa: number;
  /** Steady rise or fall. */
  readonly slopePaPerHour: number;
  readonly swingPa: number;
  readonly swingPeriodHours: number;
}

/** Absolute ambient pressure in pascal at kit time `timeUs`. */
export function ambientPa(weather: Weather, timeUs: number): number {
  const hours = timeUs / 3.6e9;
  return (
    weather.basePa +
    weather.slopePaPerHour * hours +
    weather.swingPa * Math.sin((2 * Math.PI * hours) / weather.swingPeriodHours)
  );
}
