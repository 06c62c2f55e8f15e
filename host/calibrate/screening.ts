/** Rows that cannot be meant as they stand: columns that changed places, values in another unit, outliers. */
import { PASCAL_PER_MMHG } from "../readings/pressure.ts";
import type { BenchRow } from "./bench-run.ts";
import { type Finding, finding } from "./finding.ts";

export interface Screened {
  readonly rows: readonly BenchRow[];
  readonly findings: readonly Finding[];
}

/** What a reference is off by when it was typed in another unit than its column's. */
const MIXED_UNITS: readonly (readonly [factor: number, says: string])[] = [
  [PASCAL_PER_MMHG / 100, "as mmHg among hPa it would fit, or hPa among mmHg"],
  [100 / PASCAL_PER_MMHG, "as hPa among mmHg it would fit, or mmHg among hPa"],
  [PASCAL_PER_MMHG, "as Pa among mmHg it would fit"],
  [1 / PASCAL_PER_MMHG, "as mmHg among Pa it would fit"],
  [PASCAL_PER_MMHG / 1000, "as kPa among mmHg it would fit, or the like"],
  [1000 / PASCAL_PER_MMHG, "as mmHg among kPa it would fit, or the like"],
  [10, "it is ten times off"],
  [0.1, "it is ten times off"],
  [100, "it is a hundred times off, as Pa among hPa"],
  [0.01, "it is a hundred times off, as hPa among Pa"],
];

/** A row this far off, in robust standard deviations and as a share of the span, is told. */
const OUTLYING_SD = 10;
const OUTLYING_SHARE = 0.05;

/** Screens rows by the line through most of them (median of slopes, Theil and Sen). */
export function screen(rows: readonly BenchRow[]): Screened {
  const line = medianLine(rows);
  if (line === null) return { rows, findings: [] };
  if (line.slope < -0.05) {
    const detail =
      "sensor less ambient falls as the load rises: sensor and ambient, or up and down, may have changed places";
    return { rows: [], findings: [finding("columns-reversed", detail)] };
  }
  const off = rows.map((row) => row.referencePa - (row.sensorPa - row.ambientPa - line.constant) / line.slope);
  const sd = 1.4826 * median(off.map(Math.abs));
  const references = rows.map(({ referencePa }) => referencePa);
  const span = quantile(references, 0.95) - quantile(references, 0.05);
  const findings: Finding[] = [];
  const kept = rows.filter((row, i) => {
    if (Math.abs(off[i]!) <= Math.max(OUTLYING_SD * sd, OUTLYING_SHARE * span)) return true;
    const meant = row.referencePa - off[i]!;
    const unit = MIXED_UNITS.find(([factor]) => Math.abs(row.referencePa / meant / factor - 1) < 0.04);
    const shown = `${row.referencePa.toFixed(0)} Pa where the other rows say about ${meant.toFixed(0)} Pa`;
    if (unit && meant > 0.05 * span) {
      findings.push(finding("unit-mixed", `${shown}; ${unit[1]}`, row.line, "reference"));
      return false;
    }
    findings.push(finding("row-outlying", shown, row.line, "reference"));
    return true;
  });
  return { rows: kept, findings };
}

function medianLine(rows: readonly BenchRow[]): { slope: number; constant: number } | null {
  const slopes: number[] = [];
  // A few hundred partners a row say as much as all of them.
  const stride = Math.max(1, Math.floor(rows.length / 300));
  for (const [i, a] of rows.entries()) {
    for (let k = i + 1; k < rows.length; k += stride) {
      const b = rows[k]!;
      const apart = b.referencePa - a.referencePa;
      if (apart !== 0) slopes.push((b.sensorPa - b.ambientPa - a.sensorPa + a.ambientPa) / apart);
    }
  }
  if (slopes.length < 6) return null;
  const slope = median(slopes);
  if (Math.abs(slope) < 0.01) return null;
  return { slope, constant: median(rows.map((row) => row.sensorPa - row.ambientPa - slope * row.referencePa)) };
}

function median(values: readonly number[]): number {
  return quantile(values, 0.5);
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const at = share * (sorted.length - 1);
  const [low, high] = [sorted[Math.floor(at)]!, sorted[Math.ceil(at)]!];
  return low + (high - low) * (at - Math.floor(at));
}
