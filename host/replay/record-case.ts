/** Questions about one record: its bytes to raw integers, and raw integers to its bytes. */
import { type CompiledField, type CompiledRecord, type DecodedRecord, layout, recordOf } from "../../protocol/index.ts";
import type { Pairs } from "./answer.ts";
import { type ExpectedKey, may, must } from "./replay-case.ts";

/** Raw integers by the names of the specification; arrays and tails as lists. */
export type Raws = { readonly [id: string]: number | readonly number[] };

/** Constants, reserved bits and checksums follow from the rest: a decoder may keep them to itself, an encoder is not given them. */
function follows({ type }: CompiledField): boolean {
  return type === "constant" || type === "reserved" || type === "checksum";
}

/** Field by its id, an array by the id of all its elements. */
function fieldOf(record: CompiledRecord, id: string): CompiledField | undefined {
  return record.fields.find((field) => (field.array ?? field.id) === id);
}

function textOf(raw: number | readonly number[]): string {
  return typeof raw === "number" ? `${raw}` : raw.join(",");
}

/** Keys of a good answer that holds these raw integers. */
export function rawKeys(record: CompiledRecord, raws: Raws): ExpectedKey[] {
  return Object.entries(raws).map(([id, raw]) => {
    const field = fieldOf(record, id);
    return field && follows(field) ? may(id, textOf(raw)) : must(id, textOf(raw));
  });
}

/** What an encoder is given. */
export function encoderPairs(record: CompiledRecord, raws: Raws): Pairs {
  return Object.entries(raws)
    .filter(([id]) => !follows(fieldOf(record, id)!))
    .map(([id, raw]) => [id, textOf(raw)]);
}

/** The record of that id; throws when the layout has none. */
export function record(id: string): CompiledRecord {
  return recordOf(layout, id);
}

/** Raw integers of a decoded record, arrays as lists. */
export function listed({ record: { fields }, raws }: DecodedRecord): Raws {
  const out: Record<string, number | number[]> = {};
  for (const [i, { id, array }] of fields.entries()) {
    if (array === undefined) out[id] = raws[i]!;
    else ((out[array] ??= []) as number[]).push(raws[i]!);
  }
  return out;
}
