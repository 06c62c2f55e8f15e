/**
 * From raw integers to calibrated absolute and gauge pressure, in integers only, so that every language gets the same.
 * All pressures are in 1/128 Pa, temperatures in 0.01 °C. The rule in words: protocol/COMPENSATION.md.
 *
 * The offset and the temperature effect belong to the sensor and act on the absolute pressure. Gain, its temperature term
 * and curvature belong to the cell, which passes on a share of the load, so they act on the difference from ambient:
 * applied to the absolute pressure they would turn weather into load.
 */

/** Raw integers of a calibration block, by the names of the specification. */
export interface Coefficients {
  readonly offset: number;
  readonly gain: number;
  readonly temperatureEffect: number;
  readonly gainTemperature: number;
  readonly curvature: number;
  readonly referenceTemperature: number;
}

/** Gauge pressures beyond this (40 kPa, 300 mmHg) are outside what the arithmetic is specified for. */
export const GAUGE_LIMIT = 40_000 * 128;

/** Quotient of integers, rounded half away from zero; exact while |n| + d stays below 2^53. */
export function divideRounded(n: number, d: number): number {
  const magnitude = Math.abs(n);
  const rest = magnitude % d;
  const quotient = (magnitude - rest) / d + (2 * rest >= d ? 1 : 0);
  return n < 0 && quotient !== 0 ? -quotient : quotient;
}

/** Calibrated absolute pressure. `temperature` null (not measured): the temperature term is left out. */
export function calibratedAbsolute(pressure: number, temperature: number | null, c: Coefficients): number {
  const rise =
    temperature === null ? 0 : divideRounded((temperature - c.referenceTemperature) * c.temperatureEffect, 50);
  return pressure + c.offset - rise;
}

/** Calibrated gauge pressure against an ambient pressure; null when it lies beyond GAUGE_LIMIT. */
export function calibratedGauge(
  absolute: number,
  ambient: number,
  temperature: number | null,
  c: Coefficients,
): number | null {
  const difference = absolute - ambient;
  if (Math.abs(difference) > GAUGE_LIMIT) return null;
  const kelvin = temperature === null ? 0 : temperature - c.referenceTemperature;
  const gain = c.gain + divideRounded(c.gain * kelvin * c.gainTemperature, 100_000_000);
  const linear = divideRounded(difference * gain, 1_048_576);
  if (Math.abs(linear) > GAUGE_LIMIT) return null;
  const square = divideRounded(linear * linear, 16_384);
  return linear + divideRounded(square * c.curvature * 2, 15_625_000);
}
