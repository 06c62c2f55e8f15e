import type { FlagsField } from "../model/vocabulary.ts";

/** Status of a sample, the same eight bits in the frame and in the burst block. */
export function statusFlags(at: number, container: 16, bits: readonly [number, number]): FlagsField {
  return {
    id: "status",
    type: "flags",
    at,
    container,
    bits,
    coldStart: 0b0000_0001,
    why: "What a reader must know before it believes the numbers beside it.",
    flags: [
      { bit: 0, id: "first_after_cold_start", why: "First record since power came back: the sensor may still settle." },
      { bit: 1, id: "brown_out", why: "Supply fell below the threshold since the last record: a sample was lost." },
      {
        bit: 2,
        id: "sensor_fault",
        why: "The sensor did not answer or failed its self-check; pressure is not measured.",
      },
      { bit: 3, id: "pressure_at_limit", why: "Pressure is at an end of the range: the true one may lie beyond." },
      {
        bit: 4,
        id: "sample_lost",
        why: "A sample was lost since the last record: sensor not ready in time, or bridge busy.",
      },
      { bit: 5, id: "calibration_missing", why: "Neither copy of the calibration block is whole." },
      { bit: 6, id: "supply_low", why: "Supply was below the level at which the sensor is specified." },
      { bit: 7, id: "burst_ready", why: "The burst block was completed since the last frame: worth a second Read." },
    ],
  };
}
