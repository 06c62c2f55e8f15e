/**
 * Compression classes of hosiery, in mmHg at the ankle, by scheme. Class numbers differ between countries: none is ever
 * printed without its scheme and its range. Figures of RAL-GZ 387 and ENV 12718 (superseded by CEN/TR 15831:2009) and of
 * the British type from secondary sources, the last from specification 40 of the UK Drug Tariff.
 */
interface ClassRange {
  readonly name: string;
  readonly low: number;
  /** Null: no upper end. */
  readonly high: number | null;
}

export const classSchemes: readonly { readonly id: string; readonly classes: readonly ClassRange[] }[] = [
  {
    id: "RAL-GZ 387",
    classes: [
      { name: "I", low: 18, high: 21 },
      { name: "II", low: 23, high: 32 },
      { name: "III", low: 34, high: 46 },
      { name: "IV", low: 49, high: null },
    ],
  },
  {
    id: "ENV 12718",
    classes: [
      { name: "A", low: 10, high: 14 },
      { name: "I", low: 15, high: 21 },
      { name: "II", low: 23, high: 32 },
      { name: "III", low: 34, high: 46 },
      { name: "IV", low: 49, high: null },
    ],
  },
  {
    id: "British (BS 6612 type)",
    classes: [
      { name: "I", low: 14, high: 17 },
      { name: "II", low: 18, high: 24 },
      { name: "III", low: 25, high: 35 },
    ],
  },
];

/** One text for each scheme (a class is never judged without an uncertainty): `RAL-GZ 387: class II (23-32 mmHg)`, the classes it may be, or between which it lies. */
export function classTexts(mmhg: number, uncertaintyMmhg: number): string[] {
  const low = mmhg - uncertaintyMmhg;
  const high = mmhg + uncertaintyMmhg;
  return classSchemes.map(({ id, classes }) => {
    const touched = classes.filter((one) => high >= one.low && low <= (one.high ?? Number.POSITIVE_INFINITY));
    const inside = touched.some((one) => mmhg >= one.low && mmhg <= (one.high ?? Number.POSITIVE_INFINITY));
    if (touched.length > 0) {
      const whole = touched.length === 1 && inside && within(low, high, touched[0]!);
      return `${id}: ${whole ? "" : "at the edge of "}${touched.map(named).join(" or ")}`;
    }
    const below = classes.filter((one) => one.high !== null && one.high < mmhg).at(-1);
    const above = classes.find((one) => one.low > mmhg);
    if (!below) return `${id}: below ${named(above!)}`;
    return above ? `${id}: between ${named(below)} and ${named(above)}` : `${id}: above ${named(below)}`;
  });
}

function within(low: number, high: number, one: ClassRange): boolean {
  return low >= one.low && high <= (one.high ?? Number.POSITIVE_INFINITY);
}

function named({ name, low, high }: ClassRange): string {
  return high === null ? `class ${name} (${low} mmHg and more)` : `class ${name} (${low}-${high} mmHg)`;
}
