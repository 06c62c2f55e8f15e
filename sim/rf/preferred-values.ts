/** Preferred values of IEC 60063. E12 and E24 are historic lists; E48 is what ten to the power of i/48 rounds to. From memory. */
export type Series = "E12" | "E24" | "E48";

const E24 = [
  1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2,
  9.1,
];

/** Values of one decade, from 1. */
const DECADE: { readonly [series in Series]: readonly number[] } = {
  E12: E24.filter((_, i) => i % 2 === 0),
  E24,
  E48: Array.from({ length: 48 }, (_, i) => Math.round(100 * 10 ** (i / 48)) / 100),
};

/** Values of the series from `low` to `high`, both included, rising; both above 0. */
export function preferredValues(series: Series, low: number, high: number): number[] {
  const values: number[] = [];
  for (let decade = Math.floor(Math.log10(low)); 10 ** decade <= high; decade++) {
    for (const value of DECADE[series]) {
      // Written and read in decimal, so that 47 is 47 and not 4.7 times a power of ten.
      const exact = Number(`${value}e${decade}`);
      if (exact >= low && exact <= high) values.push(exact);
    }
  }
  return values;
}
