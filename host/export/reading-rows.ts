/** Readings as a flat table, the same columns for CSV and Parquet; every row carries where its number comes from. */
import type { Interval } from "../sessions/posture-intervals.ts";
import { labelOf, type Sample, type Series } from "../sessions/series.ts";
import type { SessionResult } from "../sessions/session-result.ts";

export type ColumnType = "TIMESTAMP" | "STRING" | "DOUBLE" | "INT32" | "BOOLEAN";
export type Cell = string | number | boolean | Date | null;

/** Column names carry their unit; the order is that of the file. */
export const readingColumns = {
  time: "TIMESTAMP",
  session: "STRING",
  subject: "STRING",
  epc: "STRING",
  site: "STRING",
  layer: "INT32",
  posture: "STRING",
  worn: "BOOLEAN",
  kit_time_s: "DOUBLE",
  sequence: "INT32",
  gauge_mmhg: "DOUBLE",
  expanded_uncertainty_mmhg: "DOUBLE",
  absolute_hpa: "DOUBLE",
  ambient_hpa: "DOUBLE",
  ambient_source: "STRING",
  temperature_cel: "DOUBLE",
  supply_v: "DOUBLE",
  rssi_dbm: "DOUBLE",
  quality: "STRING",
  calibration_id: "STRING",
  layout_fingerprint: "STRING",
  software: "STRING",
  invented: "BOOLEAN",
} as const satisfies Record<string, ColumnType>;

export type ReadingColumn = keyof typeof readingColumns;
export type ReadingRow = { readonly [column in ReadingColumn]: Cell };

/** Name of a session in a table: its file's, without folder and ending. */
export function sessionName({ name }: SessionResult): string {
  const base = name.split(/[\\/]/).at(-1)!;
  return base.replace(/(\.session)?\.json$/i, "");
}

/** Rows of every distinct frame of a session, tag by tag, each in the order of time. */
export function* readingRows(result: SessionResult): Generator<ReadingRow> {
  const { series, session, provenance } = result;
  const shared = {
    session: sessionName(result),
    subject: session.subject.id,
    layout_fingerprint: provenance.fingerprint,
    software: provenance.software,
    invented: provenance.invented,
  };
  for (const one of series) {
    const place = { epc: one.tag.epc, site: labelOf(one.tag, session.tags), layer: one.tag.layer ?? null };
    yield* rowsOf(one, result.intervals, { ...shared, ...place });
  }
}

function* rowsOf(
  { samples }: Series,
  intervals: readonly Interval[],
  shared: Omit<ReadingRow, keyof ReturnType<typeof sampleCells>>,
): Generator<ReadingRow> {
  let index = 0;
  for (const sample of samples) {
    // Samples of captures that overlap may go back in time.
    if (index > 0 && sample.timeMs < intervals[index]!.fromMs) index = 0;
    while (index + 1 < intervals.length && intervals[index + 1]!.fromMs <= sample.timeMs) index++;
    yield { ...shared, ...sampleCells(sample, intervals[index] ?? null) };
  }
}

function sampleCells(sample: Sample, interval: Interval | null) {
  return {
    time: new Date(sample.timeMs),
    posture: interval?.posture ?? null,
    worn: interval?.worn ?? null,
    kit_time_s: sample.kitTimeUs / 1e6,
    sequence: sample.sequence,
    gauge_mmhg: rounded(sample.gaugeMmhg),
    expanded_uncertainty_mmhg: rounded(sample.uncertaintyMmhg),
    absolute_hpa: rounded(sample.absoluteHpa),
    ambient_hpa: rounded(sample.ambientHpa),
    ambient_source: sample.ambientOrigin,
    temperature_cel: sample.temperatureC,
    supply_v: sample.supplyV,
    rssi_dbm: sample.rssiDbm,
    quality: sample.quality.join(" "),
    calibration_id: sample.calibrationId,
  };
}

/** Six decimals: far finer than a raw step. */
function rounded(value: number | null): number | null {
  return value === null ? null : Number(value.toFixed(6));
}
