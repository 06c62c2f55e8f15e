/** What surrounds the firmware in the power-cut suite: every sample is another, so that a mix of two shows. */

/** Raw values a board gives during one sample. */
export interface Sample {
  /** 1/128 Pa. */
  readonly pressure: number;
  /** 0.01 °C. */
  readonly temperature: number;
  /** Null: whatever the store gives. */
  readonly supplyMv: number | null;
  /** What the supply falls to for one look at the end of this sample's conversion. */
  readonly sagMv?: number;
}

/** Sample `n` of life `life`; no two are alike in any of the words they fill. */
export function sampleOf(life: number, n: number): Sample {
  const k = life * 997 + n;
  return {
    pressure: 12_900_000 + ((k * 70_657) % 600_000),
    temperature: 2500 + ((k * 37) % 900),
    supplyMv: 2310 + ((k * 13) % 700),
  };
}
