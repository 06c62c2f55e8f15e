/** A table as Parquet: a row group for each stretch of rows, handed over as soon as it is made. */
import { ByteWriter, type KeyValue, ParquetWriter, schemaFromColumnData } from "hyparquet-writer";
import type { Cell } from "./reading-rows.ts";
import { type ByteSink, type ColumnValues, isMissing, type TableColumn, type TableWriter } from "./table.ts";

export class ParquetTable implements TableWriter {
  readonly #columns: readonly TableColumn[];
  readonly #sink: ByteSink;
  readonly #bytes = new ByteWriter(1 << 16);
  readonly #writer: ParquetWriter;

  /** `about` is kept in the file's metadata under the key `plyframe`. */
  constructor(columns: readonly TableColumn[], sink: ByteSink, about: object) {
    this.#columns = columns;
    this.#sink = sink;
    const columnData = columns.map(({ name, type }) => ({ name, type, nullable: true, data: [] }));
    const kvMetadata: KeyValue[] = [{ key: "plyframe", value: JSON.stringify(about) }];
    const schema = schemaFromColumnData({ columnData });
    this.#writer = new ParquetWriter({ writer: this.#bytes, schema, kvMetadata, createdBy: "plyframe" });
  }

  async write(values: readonly ColumnValues[], rows: number): Promise<void> {
    if (rows === 0) return;
    const columnData = this.#columns.map(({ name, type }, i) => ({
      name,
      data: stretch(values[i]!, rows, type),
      // An index of pages would be kept in memory to the end of the file.
      offsetIndex: false,
    }));
    await this.#writer.write({ columnData, rowGroupSize: rows });
    await this.#handOver();
  }

  async finish(): Promise<void> {
    await this.#writer.finish();
    await this.#handOver();
  }

  async #handOver(): Promise<void> {
    const made = this.#bytes.getBytes().slice();
    this.#bytes.index = 0;
    await this.#sink(made);
  }
}

function stretch(values: ColumnValues, rows: number, type: TableColumn["type"]): (Cell | bigint)[] {
  return Array.from({ length: rows }, (_, row) => {
    const value = values[row]!;
    if (isMissing(value)) return null;
    return type === "INT64" ? BigInt(value as number) : value;
  });
}
