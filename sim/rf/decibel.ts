/** Decibels of power. */
export function dbOf(ratio: number): number {
  return 10 * Math.log10(ratio);
}

export function ratioOf(db: number): number {
  return 10 ** (db / 10);
}

/** Watt to decibels above 1 mW. */
export function dbmOf(watt: number): number {
  return dbOf(watt * 1000);
}

export function wattOf(dbm: number): number {
  return ratioOf(dbm) / 1000;
}
