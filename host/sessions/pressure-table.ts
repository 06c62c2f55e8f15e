/** A CSV of pressures over time, such as an ambient log or the readings of a reference device. */
import Papa from "papaparse";
import { PASCAL_PER_MMHG } from "../readings/pressure.ts";
import type { ProblemList } from "./problem-list.ts";

const PASCAL = { pa: 1, hpa: 100, mbar: 100, kpa: 1000, mmhg: PASCAL_PER_MMHG } as const;
type UnitId = keyof typeof PASCAL;

export interface PressureRow {
  /** Counted from 1. */
  readonly line: number;
  /** UTC, milliseconds since 1970. */
  readonly timeMs: number;
  readonly pressurePa: number;
  /** Cells of the other columns, by name. */
  readonly cells: { readonly [column: string]: string };
}

export interface TableRules {
  /** Further columns that must be there. */
  readonly needs: readonly string[];
  /** What a pressure can be; a row outside is left out and named. */
  readonly lowPa: number;
  readonly highPa: number;
}

const TIME = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2})$/;

/** Rows in the order of the file; a row that cannot be read is left out and named. */
export function parsePressureTable(
  text: string,
  name: string,
  rules: TableRules,
  problems: ProblemList,
): PressureRow[] {
  const { data } = Papa.parse<string[]>(text.replace(/^\uFEFF/, ""), { skipEmptyLines: false });
  const faults: string[] = [];
  const head = (data[0] ?? []).map((cell) => cell.trim().toLowerCase());
  const units = head.flatMap((column) => {
    const unit = /^pressure_(pa|hpa|mbar|kpa|mmhg)$/.exec(column)?.[1];
    return unit === undefined ? [] : [unit as UnitId];
  });
  const missing = ["time", ...rules.needs].filter((column) => !head.includes(column));
  for (const column of missing) faults.push(`${name}:1: column ${column} is missing (found ${head.join(", ")})`);
  if (units.length === 0) {
    faults.push(`${name}:1: no pressure column with its unit (pressure_hpa, pressure_pa, pressure_mmhg, …)`);
  }
  if (units.length > 1) {
    faults.push(`${name}:1: mixed units: pressure columns in ${units.join(" and ")}; keep one`);
  }
  for (const sentence of faults) problems.reject(sentence);
  if (faults.length > 0) return [];

  const unit = units[0]!;
  const at = { time: head.indexOf("time"), pressure: head.indexOf(`pressure_${unit}`) };
  const rows: PressureRow[] = [];
  data.slice(1).forEach((cells, index) => {
    const line = index + 2;
    if (cells.every((cell) => cell.trim() === "")) return;
    const fault = (says: string) => problems.reject(`${name}:${line}: ${says}`);
    const time = (cells[at.time] ?? "").trim();
    if (!TIME.test(time) || Number.isNaN(Date.parse(time))) {
      fault(`time: "${time}" is no ISO 8601 time with its zone, such as 2026-03-04T09:00:00Z`);
      return;
    }
    const cell = (cells[at.pressure] ?? "").trim();
    const value = cell === "" ? Number.NaN : Number(cell);
    if (!Number.isFinite(value)) {
      fault(`pressure_${unit}: "${cell}" is no number`);
      return;
    }
    const pressurePa = value * PASCAL[unit];
    if (pressurePa < rules.lowPa || pressurePa > rules.highPa) {
      fault(`pressure_${unit}: ${cell} ${unit} cannot be${otherUnit(value, unit, rules)}`);
      return;
    }
    const named = Object.fromEntries(head.map((column, i) => [column, (cells[i] ?? "").trim()]));
    rows.push({ line, timeMs: Date.parse(time), pressurePa, cells: named });
  });
  return rows;
}

/** Mixed units inside one column show as values that would fit in another unit. */
function otherUnit(value: number, unit: UnitId, { lowPa, highPa }: TableRules): string {
  const fits = (Object.keys(PASCAL) as UnitId[]).filter(
    (id) => PASCAL[id] !== PASCAL[unit] && value * PASCAL[id] >= lowPa && value * PASCAL[id] <= highPa,
  );
  return fits.length > 0 ? `; mixed units? It would fit in ${fits.join(" or ")}` : "";
}
