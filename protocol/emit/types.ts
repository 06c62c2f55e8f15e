/** Emits TypeScript: raw and physical values of each record, unions of flag and enumeration ids, word addresses. */
import { type EmittedFile, layoutMark, physicalRange, rawRange } from "../model/emitted-file.ts";
import type { CompiledField, CompiledRecord, Layout } from "../model/layout.ts";
import { camelCase, pascalCase, valueName } from "../model/names.ts";

export function emitTypes(layout: Layout): EmittedFile[] {
  const { records, banks } = layout;
  const byRecord = (kind: string) => records.map(({ id }) => `  readonly ${id}: ${pascalCase(id)}${kind};\n`).join("");
  const text = `// Emitted from ${layoutMark(layout)}: change protocol/spec/ and run "npm run emit".

${records.map(recordTypes).join("")}/** Raw values by record id. */
export interface RawsByRecord {
${byRecord("Raws")}}

/** Physical values by record id. */
export interface ValuesByRecord {
${byRecord("Values")}}

/** First word and number of words of every region, by bank. */
export const words = {
${banks
  .map(
    (bank) => `  ${camelCase(bank.id)}: {
${bank.regions
  .filter(({ record }) => record !== null)
  .map(({ id, word, words }) => `    ${camelCase(id)}: { word: ${word}, words: ${words} },\n`)
  .join("")}  },
`,
  )
  .join("")}} as const;
`;
  return [{ path: "protocol/emitted/types.ts", text }];
}

function recordTypes(record: CompiledRecord): string {
  const name = pascalCase(record.id);
  const fields = record.fields.filter(({ index }) => index === undefined || index === 0);
  const unions = fields.flatMap((field) => union(name, field)).join("");
  const raws = fields.map((field) => member(field, camelCase(field.array ?? field.id), rawType(field), raw(field)));
  const values = fields
    .filter(({ type }) => !["constant", "reserved", "checksum"].includes(type))
    .map((field) => member(field, valueName(field), valueType(name, field), value(field)));
  return `${unions}/** Raw values: ${record.title.toLowerCase()}. */
export interface ${name}Raws {
${raws.join("")}}

/** Physical values: ${record.title.toLowerCase()}. */
export interface ${name}Values {
${values.join("")}}

`;
}

function union(record: string, field: CompiledField): string[] {
  const members: readonly { readonly id: string }[] = field.flags ?? field.names ?? [];
  if (members.length === 0) return [];
  const ids = members.map(({ id }) => `\n  | "${id}"`).join("");
  return [`export type ${record}${pascalCase(field.id)} =${ids};\n\n`];
}

function member(field: CompiledField, name: string, type: string, comment: string): string {
  const list = field.array === undefined ? type : type.includes("|") ? `readonly (${type})[]` : `readonly ${type}[]`;
  return `${comment === "" ? "" : `  /** ${comment} */\n`}  readonly ${name}: ${list};\n`;
}

function rawType(field: CompiledField): string {
  if (field.type === "constant") return `${field.raw}`;
  return field.type === "reserved" ? "0" : "number";
}

function raw(field: CompiledField): string {
  if (field.min === undefined) return "";
  return [rawRange(field), ...field.sentinels!.map((sentinel) => `${sentinel.raw}: ${sentinel.id}`)].join("; ");
}

function valueType(record: string, field: CompiledField): string {
  if (field.type === "flags") return `readonly ${record}${pascalCase(field.id)}[]`;
  if (field.type === "enumeration") return `${record}${pascalCase(field.id)}`;
  return field.sentinels!.some(({ means }) => means === "absent") ? "number | null" : "number";
}

function value(field: CompiledField): string {
  return field.min === undefined ? "" : physicalRange(field);
}
