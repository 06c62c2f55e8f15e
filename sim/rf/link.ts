/**
 * Power budget from the reader to the chip and back, with the far-field formula of Friis: every sum is in decibels. Not
 * valid nearer than `farFieldFromM`.
 */
import { dbOf } from "./decibel.ts";

/** Speed of light in vacuum, exact. */
export const LIGHT_M_PER_S = 299_792_458;

export interface Link {
  /** At the reader's port. */
  readonly conductedDbm: number;
  /** One way, between the reader's port and its antenna. */
  readonly cableLossDb: number;
  readonly antennaGainDbi: number;
  /** One way: 3.01 dB from a circular to a linear antenna. */
  readonly polarisationLossDb: number;
  /** One way: dressing, body, a hand in between. */
  readonly excessLossDb: number;
  /** Of the tag's antenna where it is worn, mismatch not counted: realised gain is this gain times τ. */
  readonly tagGainDbi: number;
  /** |ρ1 − ρ2| of the chip's two states, 0 to 2. */
  readonly reflectionDifference: number;
}

export function wavelengthM(frequencyHz: number): number {
  return LIGHT_M_PER_S / frequencyHz;
}

/** Loss between isotropic antennas: 20 log10(4πd/λ). */
export function freeSpaceLossDb(frequencyHz: number, distanceM: number): number {
  return 2 * dbOf((4 * Math.PI * distanceM) / wavelengthM(frequencyHz));
}

export function eirpDbm({ conductedDbm, cableLossDb, antennaGainDbi }: Link): number {
  return conductedDbm - cableLossDb + antennaGainDbi;
}

/** From the reader's port to the power that the tag's antenna offers. */
export function pathGainDb(link: Link, frequencyHz: number, distanceM: number): number {
  const { cableLossDb, antennaGainDbi, polarisationLossDb, excessLossDb, tagGainDbi } = link;
  const aerials = antennaGainDbi + tagGainDbi - cableLossDb;
  return aerials - freeSpaceLossDb(frequencyHz, distanceM) - polarisationLossDb - excessLossDb;
}

/** Power that the tag's antenna offers to a matched chip. */
export function availableDbm(link: Link, frequencyHz: number, distanceM: number): number {
  return link.conductedDbm + pathGainDb(link, frequencyHz, distanceM);
}

/** Steps of the search for the chip's power. */
const POWER_STEP_DB = 0.25;
const POWER_SPAN_DB = 60;

/**
 * Power into the chip when the antenna offers `offeredDbm`. `tauAt` gives τ at a power into the chip, on which its impedance
 * may depend; of several answers the lowest counts, which a rising field reaches first.
 */
export function acceptedDbm(offeredDbm: number, tauAt: (chipDbm: number) => number): number {
  const surplusDb = (chipDbm: number) => offeredDbm + dbOf(tauAt(chipDbm)) - chipDbm;
  let low = offeredDbm - POWER_SPAN_DB;
  if (!(surplusDb(low) > 0)) return low;
  while (surplusDb(low + POWER_STEP_DB) > 0) low += POWER_STEP_DB;
  let high = low + POWER_STEP_DB;
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (surplusDb(middle) > 0) low = middle;
    else high = middle;
  }
  return low;
}

/** Power into the chip at a distance. */
export function chipPowerDbm(
  link: Link,
  frequencyHz: number,
  distanceM: number,
  tauAt: (chipDbm: number) => number,
): number {
  return acceptedDbm(availableDbm(link, frequencyHz, distanceM), tauAt);
}

/** Power at the reader's port that brings the chip to its turn-on power; τ is the one at that power. */
export function turnOnDbm(
  link: Link,
  frequencyHz: number,
  distanceM: number,
  tau: number,
  chipTurnOnDbm: number,
): number {
  return chipTurnOnDbm - dbOf(tau) - pathGainDb(link, frequencyHz, distanceM);
}

/** The distance to which the reader turns the chip on: its power falls with the square of the distance. */
export function forwardRangeM(link: Link, frequencyHz: number, tau: number, chipTurnOnDbm: number): number {
  const spareDb = link.conductedDbm - turnOnDbm(link, frequencyHz, 1, tau, chipTurnOnDbm);
  return 10 ** (spareDb / 20);
}

/**
 * Backscattered power at the reader's port: twice the path, and |ρ1 − ρ2|² / 4 of what the antenna offers (power in the
 * modulation, as in Barbot 2021; the vector definition of Nikitin 2007 is four times that).
 */
export function backscatterDbm(link: Link, frequencyHz: number, distanceM: number): number {
  return link.conductedDbm + 2 * pathGainDb(link, frequencyHz, distanceM) + 2 * dbOf(link.reflectionDifference / 2);
}

/** The distance to which the reader still hears the tag: backscatter falls with the fourth power of the distance. */
export function backscatterRangeM(link: Link, frequencyHz: number, sensitivityDbm: number): number {
  return 10 ** ((backscatterDbm(link, frequencyHz, 1) - sensitivityDbm) / 40);
}

/** Differential radar cross-section λ² G² / 4π · |ρ1 − ρ2|² / 4 in dB over 1 m²: the definition of `backscatterDbm`. */
export function crossSectionDbsm(tagGainDbi: number, reflectionDifference: number, frequencyHz: number): number {
  const areaM2 = wavelengthM(frequencyHz) ** 2 / (4 * Math.PI);
  return dbOf(areaM2) + 2 * tagGainDbi + 2 * dbOf(reflectionDifference / 2);
}

/**
 * Nearest distance at which the far-field formulas hold, by rule of thumb: the larger of λ/2π and 2D²/λ, D being the
 * largest dimension of either antenna.
 */
export function farFieldFromM(frequencyHz: number, largestM: number): number {
  const wavelength = wavelengthM(frequencyHz);
  return Math.max(wavelength / (2 * Math.PI), (2 * largestM * largestM) / wavelength);
}
