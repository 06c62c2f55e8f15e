/** The calibration block of a fit: quantised by the specification's own scales, and what quantising costs. */
import {
  type Coefficients,
  type CompiledRecord,
  encode,
  isFault,
  layout,
  type RawValues,
  recordOf,
  sentence,
  toRaw,
} from "../../protocol/index.ts";
import { absoluteOf, gaugeOf, measuredAmbient, stepsOf, toPascal } from "../readings/pressure.ts";
import { type CellFit, type CellInput, cellReading } from "./cell-model.ts";
import { type Finding, finding } from "./finding.ts";

export const blockRecord: CompiledRecord = recordOf(layout, "calibration");

export type MethodId = "bench_two_point" | "bench_multi_point" | "bench_with_temperature" | "limb_form" | "zero_only";

/** What stands in the block beside the coefficients. */
export interface BlockFacts {
  readonly method: MethodId;
  /** ISO date of the calibration. */
  readonly date: string;
  readonly sensorSerial: number;
  readonly reuseCount: number;
  /** Null: not limited. */
  readonly reuseLimit: number | null;
  /** Rounded up to whole pascals; null: not stated. */
  readonly expandedUncertaintyPa: number | null;
  readonly temperatureLowC: number;
  readonly temperatureHighC: number;
  readonly spanHpa: number;
  /** Null: not limited. */
  readonly validityMonths: number | null;
}

export interface Block {
  readonly raws: RawValues;
  readonly words: readonly number[];
}

/** Raw coefficients of a fit, or the first that does not fit its field. */
export function quantise({ coefficients, referenceC }: CellFit): Coefficients | Finding {
  const raws = {
    offset: raw("offset", coefficients.offset),
    gain: raw("gain", coefficients.gain),
    temperatureEffect: raw("temperature_effect", coefficients.temperature_effect),
    gainTemperature: raw("gain_temperature", coefficients.gain_temperature),
    curvature: raw("curvature", coefficients.curvature),
    referenceTemperature: raw("reference_temperature", referenceC),
  };
  for (const [name, value] of Object.entries(raws)) {
    if (value === null) return finding("block-range", name);
  }
  return raws as Coefficients;
}

/** The sealed block, or the first value that does not fit its field. */
export function makeBlock(coefficients: Coefficients, facts: BlockFacts): Block | Finding {
  const { expandedUncertaintyPa, reuseLimit, validityMonths } = facts;
  const values: { [field: string]: number | null } = {
    method: blockRecord.fields.find(({ id }) => id === "method")!.names!.find(({ id }) => id === facts.method)!.raw,
    reuse_since: 0,
    date: raw("date", dayOf(facts.date)),
    sensor_serial: raw("sensor_serial", facts.sensorSerial),
    reuse_count: raw("reuse_count", facts.reuseCount),
    offset: coefficients.offset,
    reuse_limit: reuseLimit === null ? sentinel("reuse_limit") : raw("reuse_limit", reuseLimit),
    gain: coefficients.gain,
    temperature_effect: coefficients.temperatureEffect,
    gain_temperature: coefficients.gainTemperature,
    curvature: coefficients.curvature,
    reference_temperature: coefficients.referenceTemperature,
    expanded_uncertainty:
      expandedUncertaintyPa === null
        ? sentinel("expanded_uncertainty")
        : raw("expanded_uncertainty", Math.ceil(expandedUncertaintyPa)),
    temperature_low: raw("temperature_low", facts.temperatureLowC),
    temperature_high: raw("temperature_high", facts.temperatureHighC),
    span: raw("span", facts.spanHpa),
    validity: validityMonths === null ? sentinel("validity") : raw("validity", validityMonths),
  };
  for (const [name, value] of Object.entries(values)) {
    if (value === null) return finding("block-range", name);
  }
  const raws = values as RawValues;
  const bytes = encode(blockRecord, raws);
  if (isFault(bytes)) return finding("block-range", sentence(bytes));
  return { raws, words: wordsOf(bytes) };
}

/** Days from 2020-01-01, as the block counts them. */
export function dayOf(isoDate: string): number {
  return Math.round((Date.parse(`${isoDate}T00:00:00Z`) - Date.UTC(2020, 0, 1)) / 86_400_000);
}

export function wordsOf(bytes: Uint8Array): number[] {
  return Array.from({ length: bytes.length / 2 }, (_, i) => (bytes[2 * i]! << 8) | bytes[2 * i + 1]!);
}

/** A reading as any program makes it of the block: quantised coefficients, integer arithmetic; null when refused. */
export function blockReadingPa(
  { sensorPa, temperatureC, ambientPa }: CellInput,
  coefficients: Coefficients,
): number | null {
  const temperatureRaw = temperatureC === null ? null : Math.round(temperatureC * 100);
  const ambient = measuredAmbient(stepsOf(ambientPa), "typed", null, null);
  const absolute = absoluteOf(stepsOf(sensorPa), temperatureRaw, coefficients);
  const gauge = gaugeOf(absolute, ambient, temperatureRaw, coefficients);
  return gauge === null ? null : toPascal(gauge);
}

/** Largest difference that quantised coefficients and integer arithmetic make at the inputs given. */
export function quantisationErrorPa(fit: CellFit, coefficients: Coefficients, inputs: readonly CellInput[]): number {
  return Math.max(
    ...inputs.map((input) => {
      // Taken at whole steps of the tag's words, so that their own rounding, another contribution, is not counted twice.
      const temperatureC = input.temperatureC === null ? null : Math.round(input.temperatureC * 100) / 100;
      const sensorPa = stepsOf(input.sensorPa) / 128;
      const whole = { sensorPa, temperatureC, ambientPa: stepsOf(input.ambientPa) / 128 };
      const exact = cellReading(whole, fit.coefficients, fit.referenceC).gaugePa;
      return Math.abs((blockReadingPa(whole, coefficients) ?? Number.POSITIVE_INFINITY) - exact);
    }),
  );
}

function raw(field: string, value: number): number | null {
  return toRaw(blockRecord.fields.find(({ id }) => id === field)!, value);
}

/** Raw value that says "not stated" or "not limited". */
function sentinel(field: string): number {
  return blockRecord.fields.find(({ id }) => id === field)!.sentinels!.find(({ means }) => means === "absent")!.raw;
}
