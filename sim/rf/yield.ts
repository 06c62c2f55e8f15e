/** How many of many tags still match when their parts scatter: Monte Carlo with a seed. */
import { Random } from "../random.ts";
import { type ChipImpedance, chipAt, chipImpedance } from "./chip.ts";
import { inductorImpedance } from "./inductor.ts";
import { type Band, frequenciesOf, type Match } from "./match.ts";
import { transmission } from "./transmission.ts";

/** Each part is drawn evenly between its nominal value less and plus its tolerance, on its own; 0.05 is 5 %. */
export interface Tolerances {
  readonly inductance: number;
  readonly chipResistance: number;
  readonly chipCapacitance: number;
  readonly antennaResistance: number;
  readonly antennaReactance: number;
}

export interface Yield {
  readonly passed: number;
  readonly trials: number;
  readonly share: number;
  /** 95 % confidence interval of the share (Wilson's score interval). */
  readonly low: number;
  readonly high: number;
}

const YIELD_POINTS = 13;

/** A trial passes when τ stays at the level or above all over the band. */
export function yieldOf(
  match: Match,
  band: Band,
  chipDbm: number,
  level: number,
  tolerances: Tolerances,
  trials: number,
  seed: number,
): Yield {
  const random = new Random(seed, "match yield");
  const factor = (tolerance: number) => 1 + tolerance * (2 * random.fraction() - 1);
  const nominal = chipAt(match.chip, chipDbm);
  const points = frequenciesOf(band, YIELD_POINTS).map((hz) => ({ hz, antenna: match.antenna.impedance(hz) }));
  let passed = 0;
  for (let trial = 0; trial < trials; trial++) {
    const resistance = factor(tolerances.antennaResistance);
    const reactance = factor(tolerances.antennaReactance);
    const chip: ChipImpedance = {
      form: nominal.form,
      resistanceOhm: nominal.resistanceOhm * factor(tolerances.chipResistance),
      capacitanceF: nominal.capacitanceF * factor(tolerances.chipCapacitance),
    };
    const coil = factor(tolerances.inductance);
    const inductor = match.inductor && { ...match.inductor, inductanceH: match.inductor.inductanceH * coil };
    const good = points.every(({ hz, antenna }) => {
      const bent = { re: antenna.re * resistance, im: antenna.im * reactance };
      const between = inductor ? inductorImpedance(inductor, hz) : undefined;
      return transmission(bent, chipImpedance(chip, hz), between) >= level;
    });
    if (good) passed++;
  }
  return { passed, trials, share: passed / trials, ...wilson(passed, trials) };
}

/** Standard normal deviate of a two-sided 95 %. */
const DEVIATE = 1.959963984540054;

/** Wilson's score interval of a share (Wilson 1927), 95 %. */
export function wilson(passed: number, trials: number): { readonly low: number; readonly high: number } {
  const share = passed / trials;
  const square = DEVIATE * DEVIATE;
  const middle = share + square / (2 * trials);
  const half = DEVIATE * Math.sqrt((share * (1 - share)) / trials + square / (4 * trials * trials));
  const scale = 1 + square / trials;
  return { low: Math.max(0, (middle - half) / scale), high: Math.min(1, (middle + half) / scale) };
}
