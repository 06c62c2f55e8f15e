/** Readings and waveforms as rows of one flat table: a row for each reading, and one for each sample of a waveform. */

import { toHpa } from "../readings/pressure.ts";
import type { Reading, Waveform } from "../readings/reading.ts";
import { readingJson } from "../readings/reading-json.ts";
import type { Cell } from "./reading-rows.ts";
import type { TableColumn } from "./table.ts";

/** The members of a reading's JSON, those of an inner object with its name before theirs; what a row has not is missing. */
const types = {
  record: "STRING",
  /** Of the capture the row is from: one file may hold several. */
  session_started: "STRING",
  kit_time_us: "INT64",
  epc: "STRING",
  slot: "STRING",
  sequence: "INT32",
  /** Counted from the first sample of a waveform. */
  sample_time_s: "DOUBLE",
  /** Time from one sample of a waveform to the next. */
  interval_s: "DOUBLE",
  age_s: "DOUBLE",
  basis: "STRING",
  gauge_mmhg: "DOUBLE",
  gauge_hpa: "DOUBLE",
  expanded_uncertainty_mmhg: "DOUBLE",
  expanded_uncertainty_hpa: "DOUBLE",
  coverage_factor: "INT32",
  absolute_hpa: "DOUBLE",
  ambient_hpa: "DOUBLE",
  ambient_source: "STRING",
  ambient_age_s: "DOUBLE",
  band: "STRING",
  band_scheme: "STRING",
  temperature_cel: "DOUBLE",
  supply_v: "DOUBLE",
  uptime_s: "DOUBLE",
  uptime_saturated: "BOOLEAN",
  rssi_dbm: "DOUBLE",
  frequency_khz: "INT64",
  quality: "STRING",
  calibration_copy: "INT32",
  calibration_date: "STRING",
  calibration_valid_to: "STRING",
  calibration_method: "STRING",
  calibration_sensor_serial: "INT64",
  calibration_expanded_uncertainty_pa: "DOUBLE",
  tag_firmware: "STRING",
  tag_sampling_period_s: "DOUBLE",
  tag_sensor_serial: "INT64",
  counters_reuse_cycles: "INT64",
  counters_cold_starts: "INT64",
  counters_fruitless_starts: "INT64",
  counters_brown_outs: "INT64",
  counters_frames: "INT64",
  raw_frame: "STRING",
  raw_status: "INT32",
  raw_pressure: "INT32",
  raw_temperature: "INT32",
  raw_supply: "INT32",
  raw_uptime: "INT64",
  raw_burst: "STRING",
} as const satisfies Record<string, TableColumn["type"]>;

export const outcomeColumns: readonly TableColumn[] = Object.entries(types).map(([name, type]) => ({ name, type }));

/** Inner objects of a reading's JSON. */
const INNER = ["calibration", "tag", "counters", "raw"];

/** Of each column, the member it is of, and the member of that when it is an inner object. */
const paths = Object.keys(types).map((name): readonly [outer: string, inner: string | null] => {
  const outer = INNER.find((member) => name.startsWith(`${member}_`));
  return outer === undefined ? [name, null] : [outer, name.slice(outer.length + 1)];
});

/** Cells of each row in the order of `outcomeColumns`. `started`: of the capture's header; null where it has none. */
export function outcomeRows(outcome: Reading | Waveform, started: string | null): Cell[][] {
  if (outcome.kind === "reading") return [cellsOf({ session_started: started, ...readingJson(outcome) })];
  const json = readingJson(outcome);
  if (json.record === "reading") throw new Error("a waveform has no JSON of a reading");
  return json.times_s.map((time, i) => {
    const gauge = outcome.gauge[i] ?? null;
    return cellsOf({
      session_started: started,
      ...json,
      sample_time_s: time,
      gauge_mmhg: json.gauge_mmhg[i]!,
      gauge_hpa: gauge === null ? null : Number(toHpa(gauge).toFixed(6)),
      absolute_hpa: json.absolute_hpa[i]!,
    });
  });
}

type Members = { readonly [member: string]: unknown };

function cellsOf(json: Members): Cell[] {
  return paths.map(([outer, inner]) => {
    const value = json[outer] ?? null;
    if (inner !== null && value !== null) return ((value as Members)[inner] ?? null) as Cell;
    return Array.isArray(value) ? value.join(" ") : (value as Cell);
  });
}
