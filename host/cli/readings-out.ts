/** Readings in a file: as the lines that `--json` prints, or as a table. */
import { outcomeColumns, outcomeRows } from "../export/outcome-rows.ts";
import type { Cell } from "../export/reading-rows.ts";
import type { TableWriter } from "../export/table.ts";
import type { Reading, Waveform } from "../readings/reading.ts";
import { readingJson } from "../readings/reading-json.ts";
import type { DecodeOut, Kept } from "./decode-out.ts";
import type { OutFile } from "./out-file.ts";

/** Characters of lines that are written at once. */
const MANY_CHARACTERS = 1 << 16;
/** Rows of a table that are handed on at once. */
const MANY_ROWS = 256;

export class LinesOut implements DecodeOut {
  readonly #file: OutFile;
  #text = "";
  #lines = 0;

  constructor(file: OutFile) {
    this.#file = file;
  }

  get path(): string {
    return this.#file.path;
  }

  item(): null {
    return null;
  }

  outcome(outcome: Reading | Waveform): void {
    this.#text += `${JSON.stringify(readingJson(outcome))}\n`;
    this.#lines++;
  }

  async drain(all: boolean): Promise<void> {
    if (!all && this.#text.length < MANY_CHARACTERS) return;
    const text = this.#text;
    this.#text = "";
    await this.#file.write(text);
  }

  async finish(): Promise<string> {
    await this.drain(true);
    await this.#file.commit();
    return `${this.#lines} lines`;
  }

  discard(): Promise<void> {
    return this.#file.discard();
  }
}

export class TableOut implements DecodeOut {
  readonly #file: OutFile;
  readonly #table: TableWriter;
  #values: Cell[][] = outcomeColumns.map(() => []);
  #started: string | null = null;
  #rows = 0;

  constructor(file: OutFile, table: TableWriter) {
    this.#file = file;
    this.#table = table;
  }

  get path(): string {
    return this.#file.path;
  }

  item(item: Kept): null {
    if ("header" in item) this.#started = item.header.started;
    else if ("session" in item) this.#started = item.session.started;
    return null;
  }

  outcome(outcome: Reading | Waveform): void {
    for (const cells of outcomeRows(outcome, this.#started)) {
      for (const [i, cell] of cells.entries()) this.#values[i]!.push(cell);
    }
  }

  async drain(all: boolean): Promise<void> {
    const rows = this.#values[0]!.length;
    if (rows === 0 || (!all && rows < MANY_ROWS)) return;
    const values = this.#values;
    this.#values = outcomeColumns.map(() => []);
    this.#rows += rows;
    await this.#table.write(values, rows);
  }

  async finish(): Promise<string> {
    await this.drain(true);
    await this.#table.finish();
    await this.#file.commit();
    return `${this.#rows} rows`;
  }

  discard(): Promise<void> {
    return this.#file.discard();
  }
}
