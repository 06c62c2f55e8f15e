/** Layouts that differ from a compiled one in one place, for what the emitters say of fields the specification has not. */
import type { CompiledField, CompiledRecord, Layout } from "../../protocol/model/layout.ts";

export function withRecord(layout: Layout, id: string, change: Partial<CompiledRecord>): Layout {
  return {
    ...layout,
    records: layout.records.map((record) => (record.id === id ? { ...record, ...change } : record)),
  };
}

/** With one more region in the USER bank, of no record. */
export function withEmptyRegion(layout: Layout, id: string, words: number): Layout {
  const region = { id, word: 0, words, record: null, writer: "factory", lock: "none", why: "Nothing." } as const;
  const banks = layout.banks.map((bank) =>
    bank.id === "user" ? { ...bank, regions: [...bank.regions, region] } : bank,
  );
  return { ...layout, banks };
}

export function withField(layout: Layout, path: string, change: Partial<CompiledField>): Layout {
  const record = layout.records.find(({ fields }) => fields.some((field) => field.path === path))!;
  const fields = record.fields.map((field) => (field.path === path ? { ...field, ...change } : field));
  return withRecord(layout, record.id, { fields });
}
