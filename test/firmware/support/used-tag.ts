/** The tag the duty cycle is tried with: lines that lead the board. */
import { layout } from "../../../protocol/index.ts";
import { put } from "./duty-cycle.ts";

/** 1/128 Pa. */
export const PRESSURE = 13_652_224;

const frame = { status: 0, pressure: PRESSURE, temperature: 3142, supply: 2147 };
/** Raw values of both calibration blocks. */
export const calibration = {
  method: 3,
  reuse_since: 0,
  date: 1520,
  sensor_serial: 305_419_896,
  reuse_count: 7,
  offset: 3008,
  reuse_limit: 20,
  gain: 1_114_112,
  temperature_effect: 800,
  gain_temperature: -350,
  curvature: 2000,
  reference_temperature: 2500,
  expanded_uncertainty: 120,
  temperature_low: 15,
  temperature_high: 42,
  span: 133,
  validity: 12,
};
/** Raw values of the counters. */
export const counters = { reuse_cycles: 2, cold_starts: 812, fruitless_starts: 0, brown_outs: 41, frames: 70_000 };

/** A line that puts a header with this sampling period into the bank. */
export function header(periodMs: number): string {
  const { fingerprint } = layout;
  const firmware = { firmware_major: 1, firmware_minor: 0 };
  return put("header", { fingerprint, ...firmware, sampling_period: periodMs, sensor_serial: 305_419_896 });
}

/** A tag that has been in use: frames 4710 and 4711, made long after their cold start. */
const used = [
  header(100),
  put("slot_a", { ...frame, sequence: 4711, uptime: 500_000 }),
  put("slot_b", { ...frame, sequence: 4710, uptime: 499_999 }),
  put("counters_a", counters),
  put("calibration_1", calibration),
  put("calibration_2", calibration),
];
const well = [
  `set pressure ${PRESSURE}`,
  "set temperature 3142",
  "set supply_mv 2147",
  "set sensor_starts 1",
  "set sensor_ready 1",
  "set sensor_reads 1",
  "set bridge_reads 1",
  "set writes_left 255",
];
/** Lines for that tag on a board that works, up to the start. Time is not zero when power comes up: nothing may depend on it. */
export const power = [...used, ...well, "set now_ms 5000", "start"];
