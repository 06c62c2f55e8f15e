/** A table as CSV by RFC 4180: heading, lines ended by LF, a missing value as an empty cell, numbers exact. */
import { cellText } from "./csv.ts";
import { type ByteSink, type ColumnValues, isMissing, type TableColumn, type TableWriter } from "./table.ts";

/** Characters that are handed over at once: a long text put together bit by bit takes many times its length. */
const PIECE = 1 << 15;

export class CsvTable implements TableWriter {
  readonly #sink: ByteSink;
  #heading: string | null;

  constructor(columns: readonly TableColumn[], sink: ByteSink) {
    this.#sink = sink;
    this.#heading = `${columns.map(({ name }) => cellText(name)).join(",")}\n`;
  }

  async write(values: readonly ColumnValues[], rows: number): Promise<void> {
    let text = this.#takeHeading();
    for (let row = 0; row < rows; row++) {
      for (let i = 0; i < values.length; i++) {
        const value = values[i]![row]!;
        if (i > 0) text += ",";
        if (!isMissing(value)) text += cellText(value);
      }
      text += "\n";
      if (text.length < PIECE) continue;
      await this.#sink(text);
      text = "";
    }
    await this.#sink(text);
  }

  async finish(): Promise<void> {
    const heading = this.#takeHeading();
    if (heading !== "") await this.#sink(heading);
  }

  #takeHeading(): string {
    const heading = this.#heading ?? "";
    this.#heading = null;
    return heading;
  }
}
