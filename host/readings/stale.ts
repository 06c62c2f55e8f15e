/** Whether a frame of that age is stale: older than three sampling periods and two seconds; null: period not known. */
export function isStale(ageS: number, samplingPeriodS: number | null): boolean {
  return ageS > Math.max(2, 3 * (samplingPeriodS ?? 0));
}
