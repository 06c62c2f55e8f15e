/**
 * The bound on every lossless match of a resistor with a capacitor beside it, whatever its order:
 * ∫ ln(1/|Γ|) dω ≤ π / (R C) (Bode 1945, Fano 1950).
 */
import type { ChipImpedance } from "./chip.ts";
import type { Band } from "./match.ts";

/** The highest τ that can be held all over the band, for a chip in its parallel form. */
export function bodeFanoLimit({ resistanceOhm, capacitanceF }: ChipImpedance, { lowHz, highHz }: Band): number {
  const reflection = Math.exp(-1 / (2 * (highHz - lowHz) * resistanceOhm * capacitanceF));
  return 1 - reflection * reflection;
}
