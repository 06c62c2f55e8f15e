/** Frames of a capture as a table: one row for each read that gives a good frame, values in their units. */
import { type CompiledField, type Layout, recordOf, toValue } from "../../protocol/index.ts";
import type { ColumnBatch } from "../bulk/batch.ts";
import type { TableColumn, TableWriter } from "./table.ts";

/** Rows that are handed on at once: a row group of Parquet. */
const STRETCH = 65_536;

/** Collects frames and hands them to a table. */
export class FrameRows {
  /** Rows handed on so far. */
  rows = 0;
  readonly #table: TableWriter;
  readonly #fields: readonly { readonly id: string; value(raw: number): number; readonly values: Float64Array }[];
  readonly #line = new Float64Array(STRETCH);
  readonly #kitTimeUs = new Float64Array(STRETCH);
  readonly #epc: string[] = new Array<string>(STRETCH).fill("");
  readonly #slot: string[] = new Array<string>(STRETCH).fill("");
  readonly #rssiDbm = new Float64Array(STRETCH);
  readonly #frequencyKhz = new Float64Array(STRETCH);
  #held = 0;

  constructor(layout: Layout, table: TableWriter) {
    this.#table = table;
    this.#fields = valueFields(layout).map((field) => ({
      id: field.id,
      value: scaled(field),
      values: new Float64Array(STRETCH),
    }));
  }

  /** Takes the good frames of a batch from line `from` on. */
  async add(batch: ColumnBatch, from: number): Promise<void> {
    const { reads, tags, fields } = batch;
    for (let row = 0; row < batch.rows; row++) {
      const line = batch.firstLine + reads.line[row]!;
      if (reads.frame[row] !== 0 || line < from) continue;
      const to = this.#held++;
      this.#line[to] = line;
      this.#kitTimeUs[to] = reads.kitTimeUs[row]!;
      this.#epc[to] = tags[reads.tag[row]!]!;
      this.#slot[to] = reads.slot[row] === 1 ? "a" : "b";
      this.#rssiDbm[to] = reads.rssiDbm[row]!;
      this.#frequencyKhz[to] = reads.frequencyKhz[row]!;
      for (const { id, value, values } of this.#fields) values[to] = value(fields[id]![row]!);
      if (this.#held === STRETCH) await this.#hand();
    }
  }

  /** Hands on what is left and ends the table. */
  async finish(): Promise<void> {
    if (this.#held > 0) await this.#hand();
    await this.#table.finish();
  }

  async #hand(): Promise<void> {
    const columns = [this.#line, this.#kitTimeUs, this.#epc, this.#slot, this.#rssiDbm, this.#frequencyKhz];
    await this.#table.write([...columns, ...this.#fields.map(({ values }) => values)], this.#held);
    this.rows += this.#held;
    this.#held = 0;
  }
}

/** The table's columns. */
export function frameColumns(layout: Layout): TableColumn[] {
  return [
    { name: "line", type: "INT64" },
    { name: "kit_time_us", type: "INT64" },
    { name: "epc", type: "STRING" },
    { name: "slot", type: "STRING" },
    { name: "rssi_dbm", type: "DOUBLE" },
    { name: "frequency_khz", type: "INT64" },
    ...valueFields(layout).map(({ id, unit, den, num }): TableColumn => {
      if (unit === undefined || unit === "1") return { name: id, type: "INT64" };
      const name = `${id}_${unit.toLowerCase().replaceAll(/[^a-z0-9]+/g, "_")}`;
      return { name, type: num === 1 && den === 1 ? "INT64" : "DOUBLE" };
    }),
  ];
}

function valueFields(layout: Layout): CompiledField[] {
  return recordOf(layout, "frame").fields.filter(
    ({ type }) => type !== "constant" && type !== "reserved" && type !== "checksum",
  );
}

/** Value of a raw integer as `toValue` gives it, not a number for null, without its search on every row. */
function scaled(field: CompiledField): (raw: number) => number {
  const special = new Map((field.sentinels ?? []).map(({ raw }) => [raw, toValue(field, raw) ?? Number.NaN]));
  const { num = 1, add = 0, den = 1 } = field;
  return (raw) => special.get(raw) ?? (raw * num + add) / den;
}
