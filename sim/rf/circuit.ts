/** Small equivalent circuits of resistors, inductors and capacitors, in series and side by side to any depth. */
import { add, beside, type Complex, divide } from "./complex.ts";

/**
 * A loop that feeds a dipole through a mutual inductance M is one of these: L1 − M in series with M beside the dipole's
 * L2 − M, R and C in series.
 */
export type Circuit =
  | { readonly resistanceOhm: number }
  | { readonly inductanceH: number }
  | { readonly capacitanceF: number }
  | { readonly series: readonly Circuit[] }
  | { readonly parallel: readonly Circuit[] };

/** At a frequency above 0. */
export function circuitImpedance(circuit: Circuit, frequencyHz: number): Complex {
  const omega = 2 * Math.PI * frequencyHz;
  if ("resistanceOhm" in circuit) return { re: circuit.resistanceOhm, im: 0 };
  if ("inductanceH" in circuit) return { re: 0, im: omega * circuit.inductanceH };
  if ("capacitanceF" in circuit) return divide({ re: 1, im: 0 }, { re: 0, im: omega * circuit.capacitanceF });
  const parts = ("series" in circuit ? circuit.series : circuit.parallel).map((part) =>
    circuitImpedance(part, frequencyHz),
  );
  return "series" in circuit ? add(...parts) : parts.reduce(beside);
}
