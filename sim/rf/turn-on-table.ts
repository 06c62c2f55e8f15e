/** A turn-on sweep as a table of comma-separated values. */
import { decimal, type TextFault } from "./text-fault.ts";

export interface TurnOnRow {
  /** Where the row stands in its file, counted from 1. */
  readonly line: number;
  readonly frequencyHz: number;
  /** At the reader's port, the least at which the tag answered. */
  readonly readerDbm: number;
  readonly distanceM: number;
  /** At the reader's port while the tag answered; null where it was not measured. */
  readonly backscatterDbm: number | null;
}

export interface TurnOnTable {
  /** Frequencies rise strictly. */
  readonly rows: readonly TurnOnRow[];
  /** Rows left out, each with its reason. */
  readonly faults: readonly TextFault[];
}

const NEEDED = ["frequency_mhz", "reader_power_dbm", "distance_m"] as const;
const COLUMNS = [...NEEDED, "backscatter_dbm"] as const;

/**
 * First line: names of columns, in any order, others ignored. Empty lines and lines that begin with # are passed over. A
 * row that cannot be used is left out with its reason; a table without its columns or without a usable row is a fault.
 */
export function parseTurnOnTable(text: string): TurnOnTable | TextFault {
  const lines = text.replace(/^\uFEFF/, "").split(/\r\n|\r|\n/);
  let names: string[] | null = null;
  const rows: TurnOnRow[] = [];
  const faults: TextFault[] = [];
  let line = 0;
  for (const content of lines) {
    line++;
    if (content.trim() === "" || content.startsWith("#")) continue;
    const cells = content.split(",").map((cell) => cell.trim());
    if (!names) {
      names = cells;
      const fault = headFault(cells, line);
      if (fault) return fault;
      continue;
    }
    const row = parseRow(names, cells, line, rows.at(-1));
    if ("says" in row) faults.push(row);
    else rows.push(row);
  }
  if (!names) return { line, field: "columns", says: `the table is empty; it needs ${NEEDED.join(", ")}` };
  if (rows.length === 0) {
    return faults[0] ?? { line, field: "rows", says: "the table ends behind the names of its columns" };
  }
  return { rows, faults };
}

function headFault(names: readonly string[], line: number): TextFault | null {
  for (const column of NEEDED) {
    if (names.includes(column)) continue;
    const [stem] = column.split("_");
    const near = names.find((name) => name.toLowerCase().startsWith(stem!));
    const hint = near ? `; "${near}" does not say its unit this way` : "";
    return { line, field: column, says: `this column is missing${hint}` };
  }
  const twice = COLUMNS.find((column) => names.indexOf(column) !== names.lastIndexOf(column));
  return twice ? { line, field: twice, says: "this column stands twice" } : null;
}

function parseRow(
  names: readonly string[],
  cells: readonly string[],
  line: number,
  before?: TurnOnRow,
): TurnOnRow | TextFault {
  if (cells.length !== names.length) {
    return { line, field: "row", says: `${cells.length} cells for ${names.length} columns` };
  }
  const values: { [column: string]: number | null } = {};
  for (const column of COLUMNS) {
    const cell = cells[names.indexOf(column)] ?? "";
    values[column] = decimal(cell);
    if (values[column] === null && !(cell === "" && column === "backscatter_dbm")) {
      return { line, field: column, says: cell === "" ? "nothing there" : `"${cell}" is no number` };
    }
  }
  const { frequency_mhz, reader_power_dbm, distance_m, backscatter_dbm } = values;
  const frequencyHz = frequency_mhz! * 1e6;
  if (frequencyHz <= 0) return { line, field: "frequency_mhz", says: `${frequency_mhz} must be above 0` };
  if (before && frequencyHz <= before.frequencyHz) {
    return { line, field: "frequency_mhz", says: `${frequency_mhz} does not rise above that of line ${before.line}` };
  }
  if (distance_m! <= 0) return { line, field: "distance_m", says: `${distance_m} must be above 0` };
  return {
    line,
    frequencyHz,
    readerDbm: reader_power_dbm!,
    distanceM: distance_m!,
    backscatterDbm: backscatter_dbm ?? null,
  };
}
