/** The tag's antenna: its impedance over frequency, from a measurement, a table or an equivalent circuit. */
import { type Circuit, circuitImpedance } from "./circuit.ts";
import { add, type Complex, divide, multiply } from "./complex.ts";
import type { TextFault } from "./text-fault.ts";
import type { Touchstone } from "./touchstone.ts";

export interface Antenna {
  /** Frequencies between which the impedance is known; 0 and Infinity for a circuit. */
  readonly lowHz: number;
  readonly highHz: number;
  /** Only between `lowHz` and `highHz`: there is no extrapolation. */
  impedance(frequencyHz: number): Complex;
}

export interface ImpedanceRow {
  readonly frequencyHz: number;
  readonly impedance: Complex;
}

/** Resistance and reactance by straight lines between rows, whose frequencies rise strictly. */
export function antennaOfTable(rows: readonly ImpedanceRow[]): Antenna {
  const last = rows.length - 1;
  return {
    lowHz: rows[0]!.frequencyHz,
    highHz: rows[last]!.frequencyHz,
    impedance: (frequencyHz) => {
      let low = 0;
      let high = last;
      while (high - low > 1) {
        const middle = (low + high) >> 1;
        if (rows[middle]!.frequencyHz <= frequencyHz) low = middle;
        else high = middle;
      }
      const [a, b] = [rows[low]!, rows[high]!];
      const share = a === b ? 0 : (frequencyHz - a.frequencyHz) / (b.frequencyHz - a.frequencyHz);
      return {
        re: a.impedance.re + share * (b.impedance.re - a.impedance.re),
        im: a.impedance.im + share * (b.impedance.im - a.impedance.im),
      };
    },
  };
}

export function antennaOfCircuit(circuit: Circuit): Antenna {
  return { lowHz: 0, highHz: Infinity, impedance: (frequencyHz) => circuitImpedance(circuit, frequencyHz) };
}

/** Z = R (1 + Γ) / (1 − Γ); a row that no passive antenna can show is a fault. */
export function antennaOfTouchstone({ referenceOhm, rows }: Touchstone): Antenna | TextFault {
  const table: ImpedanceRow[] = [];
  for (const { line, frequencyHz, reflection } of rows) {
    const impedance = impedanceOf(reflection, referenceOhm);
    if (!Number.isFinite(impedance.re + impedance.im)) {
      return { line, field: "reflection", says: "1, an open circuit, which has no impedance" };
    }
    if (impedance.re < 0) {
      const size = Math.hypot(reflection.re, reflection.im).toPrecision(4);
      return {
        line,
        field: "resistance",
        says: `${impedance.re.toPrecision(4)} ohm: a reflection above 1 (${size}) is no antenna's`,
      };
    }
    table.push({ frequencyHz, impedance });
  }
  return antennaOfTable(table);
}

/** Impedance behind a reflection against a resistance; not finite for a reflection of exactly 1. */
export function impedanceOf(reflection: Complex, referenceOhm: number): Complex {
  const one = { re: 1, im: 0 };
  const ratio = divide(add(one, reflection), add(one, { re: -reflection.re, im: -reflection.im }));
  return multiply({ re: referenceOhm, im: 0 }, ratio);
}
