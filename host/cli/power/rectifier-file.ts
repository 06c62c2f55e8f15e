/** A rectifier's table as a CSV file with named columns: power_dbm, efficiency_percent and, where measured so, store_v. */
import { readFileSync } from "node:fs";
import papaparse from "papaparse";
import { CommandError, EXIT, systemSentence } from "../exit.ts";

export interface RectifierRow {
  readonly power_dbm: number;
  readonly efficiency_percent: number;
  readonly store_v?: number;
}

const NEEDED = ["power_dbm", "efficiency_percent"] as const;

/** Reads the table; throws a CommandError with file, line and column for what cannot be read. */
export function readRectifierFile(file: string): readonly RectifierRow[] {
  const lines = papaparse.parse<string[]>(textOf(file), { skipEmptyLines: false }).data.map((cells, i) => ({
    line: i + 1,
    cells: cells.map((cell) => cell.trim()),
  }));
  const filled = lines.filter(({ cells }) => cells.some((cell) => cell !== "") && !cells[0]!.startsWith("#"));
  const head = filled[0];
  const refuse = (line: number, says: string) => new CommandError(EXIT.usage, `${file}:${line}: ${says}`);
  if (!head) throw refuse(1, "holds no table");
  for (const name of NEEDED) {
    if (!head.cells.includes(name)) throw refuse(head.line, `the column ${name} is missing`);
  }
  const rows = filled.slice(1).map(({ line, cells }): RectifierRow => {
    const number = (name: string) => {
      const text = cells[head.cells.indexOf(name)] ?? "";
      const value = Number(text);
      if (text === "" || !Number.isFinite(value)) throw refuse(line, `${name}: "${text}" is no number`);
      return value;
    };
    const efficiency = number("efficiency_percent");
    if (efficiency < 0 || efficiency > 100) throw refuse(line, `efficiency_percent: ${efficiency} is outside 0 to 100`);
    const row = { power_dbm: number("power_dbm"), efficiency_percent: efficiency };
    return head.cells.includes("store_v") ? { ...row, store_v: number("store_v") } : row;
  });
  if (rows.length === 0) throw refuse(head.line, "holds no line under its names");
  return rows;
}

function textOf(file: string): string {
  try {
    return readFileSync(file, "utf8").replace(/^\uFEFF/, "");
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(file, error));
  }
}
