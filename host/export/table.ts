/** A table written a stretch of rows at a time, column by column, in whatever format; memory is that of one stretch. */
import type { Cell } from "./reading-rows.ts";

/** How a value is kept: as in Parquet, INT64 being a whole number that a double holds exactly. */
export interface TableColumn {
  readonly name: string;
  readonly type: "STRING" | "DOUBLE" | "INT32" | "INT64" | "BOOLEAN";
}

/** The next values of one column: null, and not-a-number in a typed array, is a value that is missing. */
export type ColumnValues = ArrayLike<Cell>;

export interface TableWriter {
  /** Adds `rows` rows; `values[i]` holds those of column i. Resolves when the sink has taken them; the arrays may be used again. */
  write(values: readonly ColumnValues[], rows: number): Promise<void>;
  /** Ends the table; a table that was never written to is a good one without rows. The sink stays open. */
  finish(): Promise<void>;
}

/** Takes the next bytes of a file; resolves when it can take more. */
export type ByteSink = (data: Uint8Array | string) => Promise<void>;

/** Whether a value is missing. */
export function isMissing(value: Cell | undefined): boolean {
  return value === null || value === undefined || Number.isNaN(value);
}
