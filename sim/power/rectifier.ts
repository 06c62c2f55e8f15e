/** From radio power at the chip to direct current power into the store, by a table that anybody can replace. */

/** One line of the table: efficiency at a power and, where it was measured so, at a voltage of the store. */
export interface EfficiencyPoint {
  readonly powerDbm: number;
  /** 0 to 1. */
  readonly efficiency: number;
  /** Left out when the table does not depend on the voltage. */
  readonly storeV?: number;
}

/** Lines in any order; all with a voltage or all without. */
export type EfficiencyTable = readonly EfficiencyPoint[];

/**
 * A class of rectifiers, from memory and no measurement of one. Published points near it: 22.1 % at -20 dBm
 * (arXiv 2405.10907), 55 % at -10 dBm and 868 MHz (Visser, Wireless Power Transfer, 2015), both for rectifiers alone.
 */
export const CLASS_TABLE: EfficiencyTable = [
  { powerDbm: -24, efficiency: 0.03 },
  { powerDbm: -20, efficiency: 0.12 },
  { powerDbm: -15, efficiency: 0.25 },
  { powerDbm: -10, efficiency: 0.38 },
  { powerDbm: -5, efficiency: 0.45 },
  { powerDbm: 0, efficiency: 0.5 },
  { powerDbm: 5, efficiency: 0.45 },
];

interface Curve {
  readonly storeV: number;
  readonly powersDbm: readonly number[];
  readonly efficiencies: readonly number[];
}

/** Power in watt of a level in dBm; -Infinity is no power. */
export function wattOfDbm(dbm: number): number {
  return 1e-3 * 10 ** (dbm / 10);
}

/** Interpolates efficiency in dBm and in volt, and keeps the last value beyond either end of the table. */
export class Rectifier {
  readonly #curves: readonly Curve[];

  constructor(table: EfficiencyTable) {
    const voltages = [...new Set(table.map(({ storeV }) => storeV ?? 0))].sort((a, b) => a - b);
    this.#curves = voltages.map((storeV) => {
      const points = table.filter((point) => (point.storeV ?? 0) === storeV);
      points.sort((a, b) => a.powerDbm - b.powerDbm);
      return {
        storeV,
        powersDbm: points.map(({ powerDbm }) => powerDbm),
        efficiencies: points.map(({ efficiency }) => efficiency),
      };
    });
  }

  /** Whether the efficiency depends on the store's voltage. */
  get dependsOnVoltage(): boolean {
    return this.#curves.length > 1;
  }

  /** Lowest and highest voltage of the table. */
  get voltages(): readonly [number, number] {
    return [this.#curves[0]!.storeV, this.#curves.at(-1)!.storeV];
  }

  efficiency(powerDbm: number, storeV: number): number {
    const curves = this.#curves;
    let upper = 0;
    while (upper < curves.length - 1 && curves[upper]!.storeV < storeV) upper++;
    const high = interpolate(curves[upper]!.powersDbm, curves[upper]!.efficiencies, powerDbm);
    if (upper === 0 || curves[upper]!.storeV <= storeV) return high;
    const lower = curves[upper - 1]!;
    const low = interpolate(lower.powersDbm, lower.efficiencies, powerDbm);
    return low + ((high - low) * (storeV - lower.storeV)) / (curves[upper]!.storeV - lower.storeV);
  }
}

/** Straight lines between points that rise in x; the end points' values beyond them. */
export function interpolate(xs: readonly number[], ys: readonly number[], x: number): number {
  const last = xs.length - 1;
  if (!(x > xs[0]!)) return ys[0]!;
  if (x >= xs[last]!) return ys[last]!;
  let i = 1;
  while (xs[i]! < x) i++;
  return ys[i - 1]! + ((ys[i]! - ys[i - 1]!) * (x - xs[i - 1]!)) / (xs[i]! - xs[i - 1]!);
}
