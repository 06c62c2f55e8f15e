/** The chip's impedance: a capacitor with a resistance in series or in parallel, the same at every power or by a table. */
import type { Complex } from "./complex.ts";

/** Both are above 0. */
export interface ChipImpedance {
  readonly form: "series" | "parallel";
  readonly resistanceOhm: number;
  readonly capacitanceF: number;
}

export interface ChipPoint extends ChipImpedance {
  readonly powerDbm: number;
}

/** Powers rise strictly and all points have one form; a single point holds at every power. */
export type Chip = readonly ChipPoint[];

/** The capacitance behind a negative reactance at a frequency. */
export function capacitanceOf(reactanceOhm: number, frequencyHz: number): number {
  return -1 / (2 * Math.PI * frequencyHz * reactanceOhm);
}

/** Resistance and capacitance at a power: straight lines over dBm between the points, the outermost points beyond them. */
export function chipAt(chip: Chip, powerDbm: number): ChipImpedance {
  const above = chip.findIndex((point) => point.powerDbm >= powerDbm);
  if (above <= 0) return chip.at(above)!;
  const [low, high] = [chip[above - 1]!, chip[above]!];
  const share = (powerDbm - low.powerDbm) / (high.powerDbm - low.powerDbm);
  return {
    form: low.form,
    resistanceOhm: low.resistanceOhm + share * (high.resistanceOhm - low.resistanceOhm),
    capacitanceF: low.capacitanceF + share * (high.capacitanceF - low.capacitanceF),
  };
}

export function chipImpedance({ form, resistanceOhm, capacitanceF }: ChipImpedance, frequencyHz: number): Complex {
  const omega = 2 * Math.PI * frequencyHz;
  if (form === "series") return { re: resistanceOhm, im: -1 / (omega * capacitanceF) };
  const quality = omega * resistanceOhm * capacitanceF;
  const re = resistanceOhm / (1 + quality * quality);
  return { re, im: -quality * re };
}

/** The parallel resistance and capacitance that look the same at one frequency. */
export function parallelAt(chip: ChipImpedance, frequencyHz: number): ChipImpedance {
  if (chip.form === "parallel") return chip;
  const { re, im } = chipImpedance(chip, frequencyHz);
  const quality = -im / re;
  const resistanceOhm = re * (1 + quality * quality);
  return { form: "parallel", resistanceOhm, capacitanceF: quality / (2 * Math.PI * frequencyHz * resistanceOhm) };
}
