/** Values of one column, packed until a row group is full: a number takes eight bytes, a text that comes again one place. */
import type { Cell } from "./reading-rows.ts";
import { type ColumnValues, isMissing, type TableColumn } from "./table.ts";

export class HeldColumn {
  readonly #type: TableColumn["type"];
  /** The number, 0 or 1, or the place of the text; not-a-number where the value is missing. */
  readonly #packed: Float64Array;
  readonly #places = new Map<string, number>();
  #texts: string[] = [];

  constructor(type: TableColumn["type"], rows: number) {
    this.#type = type;
    this.#packed = new Float64Array(rows);
  }

  /** Takes `rows` values from `from` on, to stand at `to` and behind. */
  take(values: ColumnValues, from: number, rows: number, to: number): void {
    for (let row = 0; row < rows; row++) this.#packed[to + row] = this.#pack(values[from + row]!);
  }

  /** The first `rows` values, as Parquet takes them. */
  values(rows: number): (Cell | bigint)[] {
    return Array.from({ length: rows }, (_, row) => this.#unpack(this.#packed[row]!));
  }

  /** Forgets the texts; the numbers are written over. */
  clear(): void {
    this.#texts = [];
    this.#places.clear();
  }

  #pack(value: Cell): number {
    if (isMissing(value)) return Number.NaN;
    return typeof value === "string" ? this.#placeOf(value) : Number(value);
  }

  #placeOf(text: string): number {
    let place = this.#places.get(text);
    if (place === undefined) {
      place = this.#texts.push(text) - 1;
      this.#places.set(text, place);
    }
    return place;
  }

  #unpack(packed: number): Cell | bigint {
    if (Number.isNaN(packed)) return null;
    if (this.#type === "STRING") return this.#texts[packed]!;
    if (this.#type === "INT64") return BigInt(packed);
    if (this.#type === "BOOLEAN") return packed === 1;
    return packed;
  }
}
