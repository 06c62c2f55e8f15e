/** How far temperature alone moves a reading: the bound of a rigid sealed cell, and what was found for this one. */
import { PASCAL_PER_MMHG } from "../readings/pressure.ts";
import type { CellFit } from "./cell-model.ts";

const ZERO_CELSIUS_K = 273.15;

/** Rise of the pressure in a rigid sealed volume warmed at constant amount of gas: the ideal gas, P ∝ T. */
export function sealedGasRisePa(pressurePa: number, fromC: number, toC: number): number {
  return (pressurePa * (toC - fromC)) / (fromC + ZERO_CELSIUS_K);
}

export interface TemperatureAloneRow {
  readonly temperatureC: number;
  /** Bound: a rigid sealed cell that shares no pressure with the outside. */
  readonly sealedGasPa: number;
  readonly sealedGasMmhg: number;
  /** What this cell shows without load when nothing is corrected; null when no temperature effect was fitted. */
  readonly fittedPa: number | null;
  readonly fittedMmhg: number | null;
}

export interface TemperatureAlone {
  readonly referenceC: number;
  readonly ambientPa: number;
  /** P/T at the reference temperature. */
  readonly sealedGasPaPerK: number;
  readonly fittedPaPerK: number | null;
  /** The fitted effect as a share of the bound. */
  readonly share: number | null;
  readonly rows: readonly TemperatureAloneRow[];
}

/** Rows every five kelvin from 10 °C below the reference temperature to 20 °C above it. */
export function temperatureAlone({ terms, coefficients, referenceC }: CellFit, ambientPa: number): TemperatureAlone {
  const perK = sealedGasRisePa(ambientPa, referenceC, referenceC + 1);
  const fitted = terms.includes("temperature_effect") ? coefficients.temperature_effect : null;
  const rows = [-10, -5, 0, 5, 10, 15, 20].map((kelvin) => {
    const sealedGasPa = sealedGasRisePa(ambientPa, referenceC, referenceC + kelvin);
    const fittedPa = fitted === null ? null : fitted * kelvin;
    return {
      temperatureC: referenceC + kelvin,
      sealedGasPa,
      sealedGasMmhg: sealedGasPa / PASCAL_PER_MMHG,
      fittedPa,
      fittedMmhg: fittedPa === null ? null : fittedPa / PASCAL_PER_MMHG,
    };
  });
  const share = fitted === null ? null : fitted / perK;
  return { referenceC, ambientPa, sealedGasPaPerK: perK, fittedPaPerK: fitted, share, rows };
}
