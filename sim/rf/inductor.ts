/** The tuning inductor in series between antenna and chip. */
import { beside, type Complex, divide } from "./complex.ts";

export interface Inductor {
  readonly inductanceH: number;
  /** Reactance over series resistance, taken as constant over the frequencies asked for. */
  readonly q: number;
  /** Capacitance between its ends, which makes it resonate by itself; 0 for none. */
  readonly parallelF: number;
}

/** The capacitance that makes an inductance resonate by itself at a frequency. */
export function parallelOf(inductanceH: number, selfResonanceHz: number): number {
  return 1 / ((2 * Math.PI * selfResonanceHz) ** 2 * inductanceH);
}

/** Infinity without a parallel capacitance. */
export function selfResonanceHz({ inductanceH, parallelF }: Inductor): number {
  return 1 / (2 * Math.PI * Math.sqrt(inductanceH * parallelF));
}

export function inductorImpedance({ inductanceH, q, parallelF }: Inductor, frequencyHz: number): Complex {
  const omega = 2 * Math.PI * frequencyHz;
  const coil = { re: (omega * inductanceH) / q, im: omega * inductanceH };
  return parallelF === 0 ? coil : beside(coil, divide({ re: 1, im: 0 }, { re: 0, im: omega * parallelF }));
}
