/** CSV with named columns: the header row, and the members of each further row. */
import Papa from "papaparse";
import { type ColumnId, columns, isColumn, type Members } from "./columns.ts";
import { LineFault, quoted } from "./item.ts";

/** What the header row says; `faults` are given once, and with any of them no row can be read. */
export interface CsvHeading {
  readonly delimiter: "," | ";";
  readonly names: readonly string[];
  readonly faults: readonly LineFault[];
}

/** Columns a file may leave out: every row is then a read, without signal strength. */
const OPTIONAL: ReadonlySet<ColumnId> = new Set(["record", "rssi_dbm"]);

/** The heading, or null when no cell of the line names a column. */
export function headingOf(text: string): CsvHeading | null {
  const delimiter = text.split(";").length > text.split(",").length ? ";" : ",";
  const cells = cellsOf(text, delimiter);
  if (!cells) return null;
  const names = cells.map((cell) => cell.trim());
  if (!names.some(isColumn)) return null;
  const faults: LineFault[] = [];
  for (const id of Object.keys(columns) as ColumnId[]) {
    const times = names.filter((name) => name === id).length;
    if (times > 1) faults.push(new LineFault("field-invalid", id, "the column stands more than once"));
    if (times === 0 && columns[id].of !== "ambient" && !OPTIONAL.has(id)) {
      faults.push(new LineFault("column-missing", id, `columns are ${quoted(names.join(delimiter))}`));
    }
  }
  return { delimiter, names, faults };
}

/** Members of a row. An empty cell is null where a record may hold null, else missing. */
export function membersOf(text: string, heading: CsvHeading): Members | LineFault {
  const cells = cellsOf(text, heading.delimiter);
  if (!cells) return new LineFault("field-invalid", null, `quotes do not close in ${quoted(text)}`);
  if (cells.length !== heading.names.length) {
    const reason = cells.length < heading.names.length ? "field-missing" : "field-invalid";
    return new LineFault(reason, null, `${cells.length} cells for ${heading.names.length} columns`);
  }
  const members: Record<string, unknown> = {};
  heading.names.forEach((name, i) => {
    if (isColumn(name)) members[name] = memberOf(name, cells[i]!.trim());
  });
  if (!heading.names.includes("record")) members.record = "read";
  if (!heading.names.includes("rssi_dbm")) members.rssi_dbm = null;
  if (members.record === "ambient") {
    for (const id of ["pressure_raw", "temperature_cel"]) {
      if (!heading.names.includes(id)) return new LineFault("column-missing", id, "needed by an ambient row");
    }
  }
  return members;
}

function memberOf(id: ColumnId, cell: string): unknown {
  if (cell === "") return id === "rssi_dbm" || id === "temperature_cel" ? null : id === "words" ? "" : undefined;
  return columns[id].kind === "number" && /^[+-]?\d+(\.\d+)?([eE][+-]?\d+)?$/.test(cell) ? Number(cell) : cell;
}

function cellsOf(text: string, delimiter: string): string[] | null {
  const { data, errors } = Papa.parse<string[]>(text, { delimiter, header: false });
  return errors.length === 0 && data.length === 1 ? data[0]! : null;
}
