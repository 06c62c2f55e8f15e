/** The air cell with its absolute sensor: what truly happens between the bandage and the sensor's pressure. */
import type { CellTruth, Warming } from "../scenario/scenario.ts";

/** Temperature of the cell in °C at kit time `timeUs`, for a dressing put on `wornBeforeS` before kit time 0. */
export function cellTemperatureC(warming: Warming, wornBeforeS: number, timeUs: number): number {
  return warming.startC + warming.riseK * (1 - Math.exp(-(wornBeforeS + timeUs / 1e6) / warming.timeConstantS));
}

/**
 * Pressure at the sensor in pascal, noise apart. The cell passes on a share of the load, less of it the harder it is
 * pressed; the sensor adds its offset, with the drift since calibration, and the cell's warming its part.
 */
export function cellPressurePa(cell: CellTruth, ambientPa: number, loadPa: number, temperatureC: number): number {
  const kelvin = temperatureC - cell.referenceC;
  const share = cell.share * (1 + cell.sharePerKelvin * kelvin) * (1 - cell.stiffeningPerPa * loadPa);
  return ambientPa + share * loadPa + cell.temperatureEffectPaPerK * kelvin + cell.offsetPa + cell.driftPa;
}
