/**
 * What a turn-on sweep says about a tag: its realised gain and its read range at the legal limit, each with its uncertainty.
 * The tag's own sensitivity is the measure: the field in which it just answers.
 */
import { dbOf } from "./decibel.ts";
import { freeSpaceLossDb, wavelengthM } from "./link.ts";
import type { TurnOnRow } from "./turn-on-table.ts";

/** A value in decibels with its standard uncertainty. */
export interface Level {
  readonly db: number;
  readonly standardDb: number;
}

export interface TurnOnSetup {
  readonly cableLoss: Level;
  readonly antennaGain: Level;
  /** One way. */
  readonly polarisationLoss: Level;
  /** One way: whatever lies between the antennas and is not to be counted to the tag. */
  readonly excessLoss: Level;
  /** Power into the chip at which it turns on. */
  readonly chipTurnOn: Level;
  /** Standard uncertainty of the reader's power. */
  readonly readerStandardDb: number;
  /** Step of the power ramp: the true turn-on power lies up to a step below the one found. */
  readonly stepDb: number;
  /** Standard uncertainty of the distance. */
  readonly distanceStandardM: number;
}

export interface TurnOnResult {
  readonly row: TurnOnRow;
  readonly eirpDbm: number;
  /** Gain times τ, in dBi, with its expanded uncertainty (k = 2). */
  readonly realisedGainDbi: number;
  readonly realisedGainExpandedDb: number;
  /** At the limit, with the polarisation and what lies between as in the measurement. */
  readonly rangeM: number;
  readonly rangeExpandedM: number;
  /** λ² G² / 4π · |ρ1 − ρ2|² / 4 in dB over 1 m², from the backscatter; null without it. */
  readonly crossSectionDbsm: number | null;
}

/** Reads one row of a sweep. */
export function evaluateTurnOn(row: TurnOnRow, setup: TurnOnSetup, eirpLimitDbm: number): TurnOnResult {
  const { cableLoss, antennaGain, polarisationLoss, excessLoss, chipTurnOn, stepDb } = setup;
  // Evenly likely anywhere in the step below what was found: the middle of it, and the step over √12.
  const readerDbm = row.readerDbm - stepDb / 2;
  const eirpDbm = readerDbm - cableLoss.db + antennaGain.db;
  const pathDb = freeSpaceLossDb(row.frequencyHz, row.distanceM) + polarisationLoss.db + excessLoss.db;
  const distanceDb = (20 / Math.LN10) * (setup.distanceStandardM / row.distanceM);
  const shared = [
    setup.readerStandardDb,
    stepDb / Math.sqrt(12),
    cableLoss.standardDb,
    antennaGain.standardDb,
    distanceDb,
  ];
  const forGain = [...shared, polarisationLoss.standardDb, excessLoss.standardDb, chipTurnOn.standardDb];
  // The tag compares two powers with itself, so neither its threshold nor what lies between moves the range.
  const rangeM = row.distanceM * 10 ** ((eirpLimitDbm - eirpDbm) / 20);
  return {
    row,
    eirpDbm,
    realisedGainDbi: chipTurnOn.db - (eirpDbm - pathDb),
    realisedGainExpandedDb: 2 * Math.hypot(...forGain),
    rangeM,
    rangeExpandedM: 2 * rangeM * (Math.LN10 / 20) * Math.hypot(...shared),
    crossSectionDbsm: crossSection(row, setup, pathDb),
  };
}

/** The radar equation solved for the cross-section: σ = P (4π)³ d⁴ / (Pt Gr² λ²), losses taken off both ways. */
function crossSection(row: TurnOnRow, { cableLoss, antennaGain }: TurnOnSetup, pathDb: number): number | null {
  if (row.backscatterDbm === null) return null;
  const aerialsDb = antennaGain.db - cableLoss.db;
  const areaDb = dbOf(wavelengthM(row.frequencyHz) ** 2 / (4 * Math.PI));
  return row.backscatterDbm - row.readerDbm - 2 * aerialsDb + 2 * pathDb + areaDb;
}

export interface Comparison {
  /** Measured less modelled, in dB. */
  readonly meanDb: number;
  /** Standard deviation about the mean. */
  readonly spreadDb: number;
  /** Rows whose difference is more than their expanded uncertainty. */
  readonly outside: number;
  readonly rows: number;
}

/** Measured realised gain against a model's; null when the model covers none of the rows. */
export function compareTurnOn(
  results: readonly TurnOnResult[],
  modelDbi: (frequencyHz: number) => number | null,
): Comparison | null {
  const differences: number[] = [];
  let outside = 0;
  for (const { row, realisedGainDbi, realisedGainExpandedDb } of results) {
    const model = modelDbi(row.frequencyHz);
    if (model === null) continue;
    differences.push(realisedGainDbi - model);
    if (Math.abs(realisedGainDbi - model) > realisedGainExpandedDb) outside++;
  }
  const rows = differences.length;
  if (rows === 0) return null;
  const meanDb = differences.reduce((sum, value) => sum + value, 0) / rows;
  const squares = differences.reduce((sum, value) => sum + (value - meanDb) ** 2, 0);
  return { meanDb, spreadDb: Math.sqrt(squares / Math.max(1, rows - 1)), outside, rows };
}
