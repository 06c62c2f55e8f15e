/**
 * Absolute, ambient and gauge pressure as different types, in the integer steps of the specification (1/128 Pa).
 * A gauge pressure is only ever made here, from an absolute one and an ambient.
 */
import { type Coefficients, calibratedAbsolute, calibratedGauge } from "../../protocol/index.ts";

declare const absolute: unique symbol;
declare const gauge: unique symbol;
declare const ambient: unique symbol;

export type AbsolutePressure = number & { readonly [absolute]: true };
export type GaugePressure = number & { readonly [gauge]: true };

export type AmbientSourceId = "kit_barometer" | "outside_tag" | "typed";

/** An ambient pressure with where it came from. */
export interface Ambient {
  readonly [ambient]: true;
  readonly pressure: AbsolutePressure;
  /** Expanded uncertainty (k = 2); null when none was stated. */
  readonly expandedUncertaintyPa: number | null;
  readonly source: AmbientSourceId;
  /** Kit time it belongs to; null when it was typed. */
  readonly atUs: number | null;
}

const STEPS_PER_PASCAL = 128;

/** The conventional millimetre of mercury: 13 595.1 kg/m³ × 9.806 65 m/s² × 1 mm, as in NIST SP 811 and ISO 80000-4. */
export const PASCAL_PER_MMHG = 133.322387415;

/** Coefficients of a tag without calibration: the sensor is taken as it is. */
export const NOMINAL: Coefficients = {
  offset: 0,
  gain: 1_048_576,
  temperatureEffect: 0,
  gainTemperature: 0,
  curvature: 0,
  referenceTemperature: 0,
};

/** Calibrated absolute pressure of a raw one; `temperatureRaw` in 0.01 °C, null when not measured. */
export function absoluteOf(raw: number, temperatureRaw: number | null, coefficients: Coefficients): AbsolutePressure {
  return calibratedAbsolute(raw, temperatureRaw, coefficients) as AbsolutePressure;
}

/** Ambient from raw 1/128 Pa of a kit barometer or a typed value. */
export function measuredAmbient(
  raw: number,
  source: "kit_barometer" | "typed",
  expandedUncertaintyPa: number | null,
  atUs: number | null,
): Ambient {
  return { pressure: raw as AbsolutePressure, source, expandedUncertaintyPa, atUs } as Ambient;
}

/** Ambient from the calibrated absolute pressure of a tag outside the dressing. */
export function ambientOfTag(
  pressure: AbsolutePressure,
  expandedUncertaintyPa: number | null,
  atUs: number | null,
): Ambient {
  return { pressure, source: "outside_tag", expandedUncertaintyPa, atUs } as Ambient;
}

/** Calibrated gauge pressure; null beyond what the arithmetic is specified for. */
export function gaugeOf(
  pressure: AbsolutePressure,
  against: Ambient,
  temperatureRaw: number | null,
  coefficients: Coefficients,
): GaugePressure | null {
  return calibratedGauge(pressure, against.pressure, temperatureRaw, coefficients) as GaugePressure | null;
}

export function toPascal(pressure: AbsolutePressure | GaugePressure): number {
  return pressure / STEPS_PER_PASCAL;
}

export function toHpa(pressure: AbsolutePressure | GaugePressure): number {
  return pressure / (STEPS_PER_PASCAL * 100);
}

export function toMmhg(pressure: GaugePressure): number {
  return pressure / STEPS_PER_PASCAL / PASCAL_PER_MMHG;
}

/** Raw steps of a pressure in pascal, rounded half away from zero. */
export function stepsOf(pressurePa: number): number {
  return Math.round(pressurePa * STEPS_PER_PASCAL);
}

/** Expanded uncertainty (k = 2) of independent contributions, each given expanded (k = 2): GUM, root sum of squares. */
export function combinedUncertaintyPa(calibrationPa: number, ambientPa: number): number {
  return 2 * Math.sqrt((calibrationPa / 2) ** 2 + (ambientPa / 2) ** 2);
}
