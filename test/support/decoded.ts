/** A decoded record in the form vectors are written in: arrays as lists under their own id. */
import type { DecodedRecord } from "../../protocol/codec/record.ts";
import type { CompiledField } from "../../protocol/model/layout.ts";
import { toValue } from "../../protocol/model/scale.ts";

type Listed = { readonly [id: string]: number | readonly number[] };

function gather(decoded: DecodedRecord, contentOf: (field: CompiledField, raw: number) => unknown) {
  const out: Record<string, unknown> = {};
  for (const [i, field] of decoded.record.fields.entries()) {
    const content = contentOf(field, decoded.raws[i]!);
    if (content === undefined) continue;
    if (field.array === undefined) out[field.id] = content;
    else ((out[field.array] ??= []) as unknown[]).push(content);
  }
  return out;
}

/** Raw integer of every field. */
export function rawsOf(decoded: DecodedRecord) {
  return gather(decoded, (_, raw) => raw);
}

/** Numbers as physical values (null: absent), flags as the ids set, from the lowest bit, enumerations as names. */
export function valuesOf(decoded: DecodedRecord) {
  return gather(decoded, (field, raw) => {
    if (field.type === "unsigned" || field.type === "signed") return toValue(field, raw);
    if (field.type === "enumeration") return field.names!.find((name) => name.raw === raw)?.id;
    if (field.type !== "flags") return undefined;
    const set = field.flags!.filter(({ bit }) => (raw >> bit) & 1);
    return [...set].sort((a, b) => a.bit - b.bit).map(({ id }) => id);
  });
}

/** Raw integers as the encoder takes them. */
export function encodable(raws: Listed): Record<string, number> {
  const out: Record<string, number> = {};
  for (const [id, raw] of Object.entries(raws)) {
    if (typeof raw === "number") out[id] = raw;
    else for (const [i, element] of raw.entries()) out[`${id}[${i}]`] = element;
  }
  return out;
}
