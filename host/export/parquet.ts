/** Readings as Parquet files in folders by day and tag, so that a campaign is read as one table. */
import { parquetWriteBuffer } from "hyparquet-writer";
import { type Cell, type ReadingColumn, type ReadingRow, readingColumns } from "./reading-rows.ts";

export interface ParquetFile {
  /** Relative, with forward slashes: `day=2026-03-04/tag=3034…/part-0.parquet`. */
  readonly path: string;
  readonly bytes: Uint8Array;
  readonly rows: number;
}

/** Columns of one file while it is being filled. */
type Columns = { readonly [column in ReadingColumn]: Cell[] };

/** Day and tag are in the folder names; `part` tells the files of several sessions apart. Days are UTC. */
export function* parquetFiles(rows: Iterable<ReadingRow>, part: number, provenance: object): Generator<ParquetFile> {
  const names = Object.keys(readingColumns) as ReadingColumn[];
  const files = new Map<string, Columns>();
  for (const row of rows) {
    const day = (row.time as Date).toISOString().slice(0, 10);
    const path = `day=${day}/tag=${row.epc}/part-${part}.parquet`;
    let columns = files.get(path);
    if (!columns) {
      columns = Object.fromEntries(names.map((name) => [name, []])) as unknown as Columns;
      files.set(path, columns);
    }
    for (const name of names) columns[name].push(row[name]);
  }
  for (const [path, columns] of files) {
    const columnData = names.map((name) => ({ name, data: columns[name], type: readingColumns[name], nullable: true }));
    const kvMetadata = [{ key: "plyframe", value: JSON.stringify(provenance) }];
    const bytes = new Uint8Array(parquetWriteBuffer({ columnData, kvMetadata }));
    yield { path, bytes, rows: columns.time.length };
  }
}
