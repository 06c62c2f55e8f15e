/** Arbitraries over the whole value space of a record, made from its compiled fields. */
import * as fc from "fast-check";
import type { CompiledField, CompiledRecord } from "../../protocol/index.ts";

/** What an encoder takes: raw integers by field id and the elements of each tail. */
export interface RecordInput {
  readonly values: { readonly [id: string]: number };
  readonly tails: { readonly [id: string]: readonly number[] };
}

/** Every raw value a field allows, its ends and sentinels often; null for fields the encoder fills in itself. */
function rawOfField(field: CompiledField): fc.Arbitrary<number> | null {
  switch (field.type) {
    case "unsigned":
    case "signed": {
      const edges = [field.min!, field.max!, ...field.sentinels!.map(({ raw }) => raw)];
      return fc.oneof(
        { weight: 3, arbitrary: fc.integer({ min: field.min!, max: field.max! }) },
        { weight: 1, arbitrary: fc.constantFrom(...edges) },
      );
    }
    case "flags":
      return fc
        .subarray(field.flags!.map(({ bit }) => bit))
        .map((bits) => bits.reduce((raw, bit) => raw | (1 << bit), 0));
    case "enumeration":
      return fc.constantFrom(...field.names!.map(({ raw }) => raw));
    default:
      return null;
  }
}

/** Every record the specification allows. */
export function recordInput(record: CompiledRecord): fc.Arbitrary<RecordInput> {
  const counts = new Set(record.tails.map(({ count }) => count));
  const fields: Record<string, fc.Arbitrary<number>> = {};
  record.fields.forEach((field, index) => {
    const arbitrary = counts.has(index) ? null : rawOfField(field);
    if (arbitrary) fields[field.id] = arbitrary;
  });
  const tails = Object.fromEntries(
    record.tails.map((tail) => {
      const { min, max } = record.fields[tail.count]!;
      const element = fc.integer({ min: 0, max: 2 ** (8 * tail.bytes) - 1 });
      return [tail.id, fc.array(element, { minLength: min!, maxLength: max! })];
    }),
  );
  return fc.record({ values: fc.record(fields), tails: fc.record(tails) }).map((input) => ({
    tails: input.tails,
    values: {
      ...input.values,
      ...Object.fromEntries(
        record.tails.map((tail) => [record.fields[tail.count]!.id, input.tails[tail.id]!.length] as const),
      ),
    },
  }));
}
