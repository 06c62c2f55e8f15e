/** A table as JSON Lines: one object a row, every column in each, null where a value is missing. */
import { type ByteSink, type ColumnValues, isMissing, type TableColumn, type TableWriter } from "./table.ts";

/** Characters that are handed over at once: a long text put together bit by bit takes many times its length. */
const PIECE = 1 << 15;

export class JsonTable implements TableWriter {
  readonly #sink: ByteSink;
  readonly #keys: readonly string[];

  constructor(columns: readonly TableColumn[], sink: ByteSink) {
    this.#sink = sink;
    this.#keys = columns.map(({ name }, i) => `${i === 0 ? "{" : ","}${JSON.stringify(name)}:`);
  }

  async write(values: readonly ColumnValues[], rows: number): Promise<void> {
    let text = "";
    for (let row = 0; row < rows; row++) {
      for (let i = 0; i < values.length; i++) {
        const value = values[i]![row]!;
        text += this.#keys[i]! + (isMissing(value) ? "null" : JSON.stringify(value));
      }
      text += "}\n";
      if (text.length < PIECE) continue;
      await this.#sink(text);
      text = "";
    }
    await this.#sink(text);
  }

  async finish(): Promise<void> {
    // Every line is whole as it is.
  }
}
