/** A bench run as read from CSV: rows in SI units, what was said about the run, and everything that was wrong with it. */
import Papa from "papaparse";
import {
  columnOf,
  namesOf,
  type QuantityColumn,
  type QuantityId,
  quantities,
  toSi,
  unitSuffix,
} from "./bench-columns.ts";
import { type Finding, finding } from "./finding.ts";
import { type FormGeometry, type Load, loadPressurePa } from "./load.ts";

export type RunDirection = "up" | "down" | "hold";

export interface BenchRow {
  /** Line of the file, counted from 1. */
  readonly line: number;
  readonly timeS: number | null;
  readonly cycle: number;
  /** `hold`: the load of the row before was kept, to see it creep. */
  readonly direction: RunDirection;
  /** Rows of the same step are readings of one settled point; null: the row is a point of its own. */
  readonly step: number | null;
  /** Gauge. */
  readonly referencePa: number;
  /** Absolute, as the tag gave it. */
  readonly sensorPa: number;
  readonly temperatureC: number | null;
  readonly ambientPa: number;
}

export interface BenchRun {
  readonly rows: readonly BenchRow[];
  readonly load: Load;
  /** `# key: value` lines. */
  readonly notes: ReadonlyMap<string, string>;
  readonly findings: readonly Finding[];
  /** Rows of numbers in the file, those left out included. */
  readonly rowsRead: number;
}

export interface RunSettings {
  /** What the columns do not say. */
  readonly geometry: FormGeometry;
  /** For files without an ambient column. */
  readonly ambientPa: number | null;
}

type Cells = { readonly [quantity in QuantityId]?: number };

/** Reads a bench run; nothing in the text makes it throw. */
export function parseBenchRun(text: string, settings: RunSettings): BenchRun {
  const lines = text.replace(/^\uFEFF/, "").split(/\r?\n/);
  const notes = new Map<string, string>();
  const findings: Finding[] = [];
  let heading: Heading | null = null;
  const rows: BenchRow[] = [];
  let rowsRead = 0;
  let reversed: Finding | null = null;
  for (const [index, content] of lines.entries()) {
    const line = index + 1;
    const note = /^#\s*([a-z_]+)\s*:\s*(.*?)\s*$/.exec(content);
    if (note) notes.set(note[1]!, note[2]!);
    if (content.trim() === "" || content.startsWith("#")) continue;
    if (heading === null) {
      heading = headingOf(content, line, settings);
      findings.push(...heading.findings);
      if (heading.load === null) break;
      continue;
    }
    rowsRead++;
    const row = rowOf(content, line, heading, settings, rows);
    if (!("code" in row)) rows.push(row);
    else if (changedPlaces(content, heading)) reversed ??= row;
    else findings.push(row);
  }
  if (reversed) {
    const detail = "references are absolute pressures and the tag's are gauge pressures";
    findings.push(finding("columns-reversed", detail, reversed.line, reversed.column));
  }
  const load = heading?.load ?? "pressure";
  if (heading?.load === null) return { rows: [], load, notes, findings, rowsRead };
  if (rowsRead === 0) findings.push(finding("file-empty"));
  if (heading && !heading.has("direction") && rows.length > 0) findings.push(finding("direction-inferred"));
  return {
    rows,
    load,
    notes,
    findings: [...findings, ...timeFindings(rows), ...directionFindings(rows, heading)],
    rowsRead,
  };
}

interface Heading {
  readonly delimiter: "," | ";";
  readonly names: readonly string[];
  readonly columns: readonly (QuantityColumn | null)[];
  /** Null: nothing can be read. */
  readonly load: Load | null;
  readonly findings: readonly Finding[];
  has(name: string): boolean;
}

const LOADS: readonly (readonly [QuantityId, Load])[] = [
  ["reference", "pressure"],
  ["tension", "tension"],
  ["weight", "weight"],
];

function headingOf(text: string, line: number, { geometry, ambientPa }: RunSettings): Heading {
  const delimiter = text.split(";").length > text.split(",").length ? ";" : ",";
  const names = (cellsOf(text, delimiter) ?? []).map((name) => name.trim().toLowerCase());
  const columns = names.map(columnOf);
  const findings: Finding[] = [];
  const missing = (what: string, column: string) => findings.push(finding("column-missing", what, line, column));
  for (const [i, name] of names.entries()) {
    if (names.indexOf(name) !== i) findings.push(finding("column-repeated", "", line, name));
    else if (columns[i] === null && name !== "direction") findings.push(finding("column-unknown", "", line, name));
  }
  const of = (quantity: QuantityId) => columns.filter((column) => column?.quantity === quantity) as QuantityColumn[];
  for (const quantity of Object.keys(quantities) as QuantityId[]) {
    const units = new Set(of(quantity).map(({ unit }) => unit));
    if (units.size > 1) {
      const twice = of(quantity).map(({ name }) => name);
      findings.push(finding("units-mixed-columns", twice.join(" and "), line, twice[1]!));
    }
  }
  const loads = LOADS.filter(([quantity]) => of(quantity).length > 0);
  if (loads.length === 0) {
    missing(`one of ${LOADS.flatMap(([quantity]) => namesOf(quantity)).join(", ")}`, "reference");
  } else if (loads.length > 1) {
    const both = loads.map(([quantity]) => of(quantity)[0]!.name);
    findings.push(finding("units-mixed-columns", `the load as ${both.join(" and ")}`, line, both[1]!));
  }
  if (of("sensor").length === 0) missing(`one of ${namesOf("sensor").join(", ")}`, "sensor");
  if (of("ambient").length === 0 && ambientPa === null) {
    missing(`one of ${namesOf("ambient").join(", ")}, or a typed ambient pressure`, "ambient");
  }
  const load = loads[0]?.[1] ?? null;
  const needs: readonly QuantityId[] =
    load === "tension" ? ["circumference", "width"] : load === "weight" ? ["area"] : [];
  for (const quantity of needs) {
    if (of(quantity).length === 0 && geometry[quantity as keyof FormGeometry] === null) {
      missing(`one of ${namesOf(quantity).join(", ")}, or typed, to turn a ${load} into a pressure`, quantity);
    }
  }
  const stops = findings.some(({ code }) => code !== "column-unknown");
  return { delimiter, names, columns, load: stops ? null : load, findings, has: (name) => names.includes(name) };
}

function rowOf(
  text: string,
  line: number,
  heading: Heading,
  { geometry, ambientPa }: RunSettings,
  earlier: readonly BenchRow[],
): BenchRow | Finding {
  const texts = cellsOf(text, heading.delimiter);
  if (!texts || texts.length !== heading.names.length) {
    return finding("cells-wrong", `${texts?.length ?? 0} cells for ${heading.names.length} columns`, line);
  }
  const values: { [quantity in QuantityId]?: number } = {};
  for (const [i, column] of heading.columns.entries()) {
    if (column === null) continue;
    const value = cellValue(texts[i]!.trim(), column, heading.delimiter, line);
    if (value === null) continue;
    if (typeof value !== "number") return value;
    values[column.quantity] = value;
  }
  const cells: Cells = values;
  const { timeS, before } = { timeS: cells.time ?? null, before: earlier.at(-1) };
  const twin = timeS === null ? undefined : earlier.find((row) => row.timeS === timeS);
  if (twin) {
    const name = heading.columns.find((column) => column?.quantity === "time")!.name;
    return finding("time-duplicated", `${timeS} s is also the time of line ${twin.line}`, line, name);
  }
  const referencePa = loadPressurePa(heading.load!, cells, geometry);
  const cycle = cells.cycle ?? 1;
  const direction = directionOf(texts[heading.names.indexOf("direction")], line, { referencePa, cycle }, before);
  if (typeof direction !== "string") return direction;
  return {
    line,
    timeS,
    cycle,
    direction,
    step: cells.step ?? null,
    referencePa,
    sensorPa: cells.sensor!,
    temperatureC: cells.temperature ?? null,
    ambientPa: cells.ambient ?? ambientPa!,
  };
}

/** Whether reference and sensor of a row cannot be, but could if they changed places. */
function changedPlaces(text: string, { delimiter, columns }: Heading): boolean {
  const texts = cellsOf(text, delimiter) ?? [];
  const of = (quantity: QuantityId) => {
    const at = columns.findIndex((column) => column?.quantity === quantity);
    return at < 0 ? Number.NaN : toSi(columns[at]!, Number((texts[at] ?? "").trim().replace(",", ".")));
  };
  const fits = (value: number, quantity: QuantityId) =>
    value >= quantities[quantity].range[0] && value <= quantities[quantity].range[1];
  const [reference, sensor] = [of("reference"), of("sensor")];
  return !fits(sensor, "sensor") && fits(reference, "sensor") && fits(sensor, "reference");
}

function cellValue(text: string, column: QuantityColumn, delimiter: string, line: number): number | null | Finding {
  const { range, what } = quantities[column.quantity];
  if (text === "") {
    return column.quantity === "temperature" ? null : finding("cell-missing", what, line, column.name);
  }
  const [, digits, unit = ""] = /^([+-]?[\d.,]+(?:[eE][+-]?\d+)?)\s*(\S*)$/.exec(text) ?? [];
  const cell = digits === undefined ? Number.NaN : Number(delimiter === ";" ? digits.replace(",", ".") : digits);
  if (!Number.isFinite(cell)) return finding("cell-invalid", `"${text.slice(0, 40)}" is no number`, line, column.name);
  if (unit !== "" && unitSuffix(unit) !== column.unit) {
    const known = unitSuffix(unit) !== null;
    return known
      ? finding("unit-mixed", `"${text}" in a column of ${column.unit || "counts"}`, line, column.name)
      : finding("cell-invalid", `"${text.slice(0, 40)}" is no number`, line, column.name);
  }
  const value = toSi(column, cell);
  const counted = ["cycle", "step", "layers"].includes(column.quantity);
  if (
    !(value >= range[0] && value <= range[1]) ||
    (counted && column.quantity !== "layers" && !Number.isInteger(value))
  ) {
    return finding("value-out-of-range", `${text}; ${what}`, line, column.name);
  }
  return value;
}

function directionOf(
  text: string | undefined,
  line: number,
  { referencePa, cycle }: { referencePa: number; cycle: number },
  before: BenchRow | undefined,
): RunDirection | Finding {
  const said = text?.trim().toLowerCase();
  if (said === "up" || said === "down" || said === "hold") {
    if (said === "hold" && !before) return finding("cell-invalid", "nothing was held before it", line, "direction");
    return said;
  }
  if (said !== undefined && said !== "") {
    return finding("cell-invalid", `"${said.slice(0, 40)}" is none of up, down, hold`, line, "direction");
  }
  if (!before || before.cycle !== cycle) return "up";
  if (referencePa === before.referencePa) return before.direction;
  return referencePa > before.referencePa ? "up" : "down";
}

function timeFindings(rows: readonly BenchRow[]): Finding[] {
  return rows.flatMap((row, i) => {
    const before = rows[i - 1]?.timeS ?? null;
    if (row.timeS === null || before === null || row.timeS >= before) return [];
    return [finding("time-backwards", `${row.timeS} s after ${before} s`, row.line, "time")];
  });
}

/** A step further than a fiftieth of the span the other way than it is said to go. */
function directionFindings(rows: readonly BenchRow[], heading: Heading | null): Finding[] {
  if (!heading?.has("direction")) return [];
  const references = rows.map(({ referencePa }) => referencePa);
  const span = Math.max(0, ...references) - Math.min(0, ...references);
  return rows.flatMap((row, i) => {
    const before = rows[i - 1];
    if (!before || before.cycle !== row.cycle) return [];
    const rise = row.referencePa - before.referencePa;
    const contradicts = (row.direction === "up" && rise < -span / 50) || (row.direction === "down" && rise > span / 50);
    const went = rise > 0 ? "rose" : "fell";
    return contradicts
      ? [finding("direction-contradicts", `${row.direction}, but the load ${went}`, row.line, "direction")]
      : [];
  });
}

function cellsOf(text: string, delimiter: string): string[] | null {
  const { data, errors } = Papa.parse<string[]>(text, { delimiter, header: false });
  return errors.length === 0 && data.length === 1 ? data[0]! : null;
}
