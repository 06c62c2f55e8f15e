/** A table being written to a file whose name says the form. */
import { formatFingerprint, layout } from "../../protocol/index.ts";
import { CsvTable } from "../export/csv-table.ts";
import { JsonTable } from "../export/json-table.ts";
import type { ByteSink, TableColumn, TableWriter } from "../export/table.ts";
import type { OutFormat } from "./out-name.ts";
import { VERSION } from "./version.ts";

/** Writer of a table in the format; Parquet keeps in its metadata what made it, and of which layout. */
export async function tableWriter(
  format: Exclude<OutFormat, "pcapng">,
  columns: readonly TableColumn[],
  sink: ByteSink,
): Promise<TableWriter> {
  if (format === "csv") return new CsvTable(columns, sink);
  if (format === "jsonl") return new JsonTable(columns, sink);
  const { ParquetTable } = await import("../export/parquet-table.ts");
  const about = {
    software: `plyframe ${VERSION}`,
    layout: layout.layout,
    fingerprint: formatFingerprint(layout.fingerprint),
  };
  return new ParquetTable(columns, sink, about);
}
