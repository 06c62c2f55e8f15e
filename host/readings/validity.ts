/** Calendar arithmetic of a calibration's date and validity, in UTC days. */

/** ISO date of a day counted from 2020-01-01. */
export function isoDate(day: number): string {
  return new Date(Date.UTC(2020, 0, 1 + day)).toISOString().slice(0, 10);
}

/** ISO date of the last day of validity: the same day of the month `months` later, or that month's last day. */
export function lastValidDate(day: number, months: number): string {
  const from = new Date(Date.UTC(2020, 0, 1 + day));
  const last = new Date(Date.UTC(from.getUTCFullYear(), from.getUTCMonth() + months + 1, 0));
  const date = Math.min(from.getUTCDate(), last.getUTCDate());
  return new Date(Date.UTC(last.getUTCFullYear(), last.getUTCMonth(), date)).toISOString().slice(0, 10);
}
