/** Antenna, series inductor and chip together over a band, and the choice of the inductor. */
import type { Antenna } from "./antenna.ts";
import { type Chip, chipAt, chipImpedance } from "./chip.ts";
import { type Inductor, inductorImpedance, selfResonanceHz } from "./inductor.ts";
import { transmission } from "./transmission.ts";

export interface Match {
  readonly antenna: Antenna;
  readonly chip: Chip;
  /** null: antenna and chip joined without one. */
  readonly inductor: Inductor | null;
}

export interface Band {
  readonly lowHz: number;
  readonly highHz: number;
}

export interface BandResult {
  readonly worst: number;
  readonly worstHz: number;
  readonly best: number;
  readonly bestHz: number;
  /** Over frequency, by the trapezoid rule. */
  readonly mean: number;
}

export interface Candidate extends BandResult {
  readonly inductor: Inductor | null;
}

/** Points at which a band is looked at, both edges included. */
const BAND_POINTS = 61;

/** Power transmission coefficient at a frequency, with the chip as it is at this power. */
export function matchAt({ antenna, chip, inductor }: Match, frequencyHz: number, chipDbm: number): number {
  const between = inductor ? inductorImpedance(inductor, frequencyHz) : undefined;
  return transmission(antenna.impedance(frequencyHz), chipImpedance(chipAt(chip, chipDbm), frequencyHz), between);
}

/** Frequencies from one edge to the other, evenly spaced. */
export function frequenciesOf({ lowHz, highHz }: Band, points = BAND_POINTS): number[] {
  return Array.from({ length: points }, (_, i) => lowHz + ((highHz - lowHz) * i) / (points - 1));
}

/** Looks at a function of frequency over a band. */
export function overBand(band: Band, valueAt: (frequencyHz: number) => number): BandResult {
  const frequencies = frequenciesOf(band);
  const values = frequencies.map(valueAt);
  const worst = Math.min(...values);
  const best = Math.max(...values);
  const ends = (values[0]! + values.at(-1)!) / 2;
  const sum = values.reduce((before, value) => before + value, -ends);
  return {
    worst,
    worstHz: frequencies[values.indexOf(worst)]!,
    best,
    bestHz: frequencies[values.indexOf(best)]!,
    mean: sum / (values.length - 1),
  };
}

/**
 * Every inductor whose own resonance lies above the band, and no inductor at all, the best first: by the worst τ over the
 * band or by the mean.
 */
export function rankInductors(
  bare: Omit<Match, "inductor">,
  inductors: readonly Inductor[],
  band: Band,
  chipDbm: number,
  goal: "worst" | "mean",
): Candidate[] {
  const usable = inductors.filter((inductor) => selfResonanceHz(inductor) > band.highHz);
  return [null, ...usable]
    .map((inductor) => ({
      inductor,
      ...overBand(band, (frequencyHz) => matchAt({ ...bare, inductor }, frequencyHz, chipDbm)),
    }))
    .sort((a, b) => b[goal] - a[goal]);
}

export interface Bandwidth extends Band {
  /** The antenna's data, or the limits asked for, end before τ falls below the level: the edge is further out. */
  readonly lowOpen: boolean;
  readonly highOpen: boolean;
}

/** Steps in which an edge is looked for; a dip narrower than one is not seen. */
const EDGE_STEPS = 400;

/** The run of frequencies around `aroundHz` in which a value stays at the level or above; null when it is below it there. */
export function bandwidthAt(
  valueAt: (frequencyHz: number) => number,
  level: number,
  aroundHz: number,
  limits: Band,
): Bandwidth | null {
  if (valueAt(aroundHz) < level) return null;
  const low = edge(valueAt, level, aroundHz, limits.lowHz);
  const high = edge(valueAt, level, aroundHz, limits.highHz);
  return { lowHz: low ?? limits.lowHz, highHz: high ?? limits.highHz, lowOpen: low === null, highOpen: high === null };
}

/** Where the value falls below the level on the way to the limit; null when it does not. */
function edge(valueAt: (frequencyHz: number) => number, level: number, fromHz: number, limitHz: number): number | null {
  let inside = fromHz;
  for (let step = 1; step <= EDGE_STEPS; step++) {
    let outside = fromHz + ((limitHz - fromHz) * step) / EDGE_STEPS;
    if (valueAt(outside) >= level) {
      inside = outside;
      continue;
    }
    while (Math.abs(outside - inside) > 1) {
      const middle = (inside + outside) / 2;
      if (valueAt(middle) >= level) inside = middle;
      else outside = middle;
    }
    return inside;
  }
  return null;
}
