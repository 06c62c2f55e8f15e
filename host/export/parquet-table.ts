/** A table as Parquet: rows are held packed until a row group is full, which is handed over as soon as it is made. */
import { ByteWriter, type KeyValue, ParquetWriter, schemaFromColumnData } from "hyparquet-writer";
import { HeldColumn } from "./held-column.ts";
import type { Cell } from "./reading-rows.ts";
import type { ByteSink, ColumnValues, TableColumn, TableWriter } from "./table.ts";

/** What the end of the file says of a group stays in memory, and so do the rows of one: fewer, larger groups cost less of both. */
const GROUP_ROWS = 16_384;

export class ParquetTable implements TableWriter {
  readonly #columns: readonly TableColumn[];
  readonly #sink: ByteSink;
  readonly #bytes = new ByteWriter(1 << 16);
  readonly #writer: ParquetWriter;
  readonly #held: readonly HeldColumn[];
  #rows = 0;

  /** `about` is kept in the file's metadata under the key `plyframe`. */
  constructor(columns: readonly TableColumn[], sink: ByteSink, about: object) {
    this.#columns = columns;
    this.#held = columns.map(({ type }) => new HeldColumn(type, GROUP_ROWS));
    this.#sink = sink;
    const columnData = columns.map(({ name, type }) => ({ name, type, nullable: true, data: [] }));
    const kvMetadata: KeyValue[] = [{ key: "plyframe", value: JSON.stringify(about) }];
    const schema = schemaFromColumnData({ columnData });
    this.#writer = new ParquetWriter({ writer: this.#bytes, schema, kvMetadata, createdBy: "plyframe" });
  }

  async write(values: readonly ColumnValues[], rows: number): Promise<void> {
    for (let from = 0; from < rows; ) {
      const many = Math.min(rows - from, GROUP_ROWS - this.#rows);
      for (const [i, held] of this.#held.entries()) held.take(values[i]!, from, many, this.#rows);
      this.#rows += many;
      from += many;
      if (this.#rows === GROUP_ROWS) await this.#group();
    }
  }

  async finish(): Promise<void> {
    if (this.#rows > 0) await this.#group();
    await this.#writer.finish();
    await this.#handOver();
  }

  async #group(): Promise<void> {
    const rows = this.#rows;
    const held = this.#held;
    const columnData = this.#columns.map(({ name }, i) => ({
      name,
      // The writer asks for one column after the other, so that the values of one at a time are unpacked.
      get data(): (Cell | bigint)[] {
        return held[i]!.values(rows);
      },
      // An index of pages would be kept in memory to the end of the file.
      offsetIndex: false,
    }));
    await this.#writer.write({ columnData, rowGroupSize: rows });
    for (const column of held) column.clear();
    this.#rows = 0;
    await this.#handOver();
  }

  async #handOver(): Promise<void> {
    const made = this.#bytes.getBytes().slice();
    this.#bytes.index = 0;
    await this.#sink(made);
  }
}
