/** A decoded record as an object with the emitted types: raw integers, or physical values with their units in the names. */
import type { RawsByRecord, ValuesByRecord } from "../emitted/types.ts";
import type { CompiledField } from "../model/layout.ts";
import { camelCase, valueName } from "../model/names.ts";
import { toValue } from "../model/scale.ts";
import type { DecodedRecord } from "./record.ts";

/** Raw integers by camel-case name; an array is one member. Throws when the record is another, a programming error. */
export function namedRaws<Id extends keyof RawsByRecord>(decoded: DecodedRecord, id: Id): RawsByRecord[Id] {
  const entries = collect(
    decoded,
    id,
    (field) => camelCase(field.array ?? field.id),
    (_, raw) => raw,
  );
  return entries as unknown as RawsByRecord[Id];
}

/**
 * Physical values by name with unit; null where a sentinel says there is none, flags as the ids that are set, an
 * enumeration as its name. Throws when the record is another, a programming error.
 */
export function namedValues<Id extends keyof ValuesByRecord>(decoded: DecodedRecord, id: Id): ValuesByRecord[Id] {
  return collect(decoded, id, valueName, physical) as unknown as ValuesByRecord[Id];
}

function collect(
  { record, raws }: DecodedRecord,
  id: string,
  nameOf: (field: CompiledField) => string,
  contentOf: (field: CompiledField, raw: number) => unknown,
): Record<string, unknown> {
  if (record.id !== id) throw new Error(`a record ${record.id} was decoded, not ${id}`);
  const named: Record<string, unknown> = {};
  for (const [index, field] of record.fields.entries()) {
    const value = contentOf(field, raws[index]!);
    if (value === undefined) continue;
    const name = nameOf(field);
    if (field.array === undefined) named[name] = value;
    else ((named[name] ??= []) as unknown[]).push(value);
  }
  return named;
}

/** Undefined for what carries no value of its own: constants, reserved bits, checksums. */
function physical(field: CompiledField, raw: number): unknown {
  switch (field.type) {
    case "unsigned":
    case "signed":
      return toValue(field, raw);
    case "flags":
      return field.flags!.filter(({ bit }) => (raw >> bit) & 1).map(({ id }) => id);
    case "enumeration":
      return field.names!.find((name) => name.raw === raw)!.id;
    default:
      return undefined;
  }
}
