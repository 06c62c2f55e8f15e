/** Readings as CSV by RFC 4180, lines ended by LF, times in ISO 8601 UTC, an absent value as an empty cell. */
import { type Cell, type ReadingColumn, type ReadingRow, readingColumns } from "./reading-rows.ts";

const names = Object.keys(readingColumns) as ReadingColumn[];

export function csvHeading(): string {
  return `${names.join(",")}\n`;
}

export function csvLine(row: ReadingRow): string {
  return `${names.map((name) => cellText(row[name])).join(",")}\n`;
}

/** A value as the text of a cell, quoted where it must be; an absent one is empty. */
export function cellText(cell: Cell): string {
  if (cell === null) return "";
  if (cell instanceof Date) return cell.toISOString();
  const text = String(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
