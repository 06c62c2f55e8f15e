/** What share of the antenna's available power reaches the chip (Kurokawa 1965; for tags: Nikitin 2005). */
import { add, type Complex, magnitude } from "./complex.ts";

const NOTHING: Complex = { re: 0, im: 0 };

/**
 * Power transmission coefficient τ = 4 Ra Rc / |Za + Zs + Zc|², 0 to 1. `between` (Zs) is what lies in series between
 * antenna and chip; what its resistance takes does not reach the chip.
 */
export function transmission(antenna: Complex, chip: Complex, between: Complex = NOTHING): number {
  return (4 * antenna.re * chip.re) / magnitude(add(antenna, between, chip)) ** 2;
}
