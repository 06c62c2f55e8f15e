/** Fields that stand in more than one record and must mean the same in each. */
import type { NumberField } from "../model/vocabulary.ts";

/** Absolute pressure, 1/128 Pa, valid from 260 to 1260 hPa. */
export function pressureField(at: number, bits: readonly [number, number]): NumberField {
  return {
    id: "pressure",
    type: "unsigned",
    at,
    container: 32,
    bits,
    unit: "pascal",
    scale: { num: 1, den: 128 },
    rounding: "half-away-from-zero",
    outOfRange: "saturate",
    range: [3_328_000, 16_128_000],
    sentinels: [{ raw: 16_777_215, id: "not_measured", means: "absent" }],
    coldStart: 16_777_215,
    why: "Absolute pressure in the air cell as the sensor gave it, before calibration: 0.0078 Pa (0.000059 mmHg) a step.",
  };
}

/** Temperature of the air cell, 0.01 °C. */
export function temperatureField(at: number): NumberField {
  return {
    id: "temperature",
    type: "signed",
    at,
    container: 16,
    bits: [15, 0],
    unit: "celsius",
    scale: { num: 1, den: 100 },
    rounding: "half-away-from-zero",
    outOfRange: "saturate",
    range: [-4000, 12_500],
    sentinels: [{ raw: -32_768, id: "not_measured", means: "absent" }],
    coldStart: -32_768,
    why: "The air cell warms under a dressing and its pressure with it; from the same conversion as the pressure.",
  };
}
