/** `plyframe layout`: the memory map in the terminal, one record in full, or a comparison with another layout. */
import { readFileSync } from "node:fs";
import {
  type BankSpec,
  type Change,
  type CompiledField,
  type CompiledRecord,
  compareLayouts,
  formatFingerprint,
  type Layout,
  layout,
  releasedLayouts,
} from "../../../protocol/index.ts";
import { CommandError, EXIT, systemSentence } from "../exit.ts";
import { columns, paint, say, sayJson } from "../terminal.ts";

export interface LayoutOptions {
  readonly fingerprint?: boolean;
  readonly against?: string;
  readonly json?: boolean;
}

export function layoutCommand(name: string | undefined, options: LayoutOptions): void {
  if (options.fingerprint) say(formatFingerprint(layout.fingerprint));
  else if (options.against !== undefined) against(options.against, options.json === true);
  else if (name !== undefined) named(name, options.json === true);
  else if (options.json) sayJson(layout);
  else everyBank();
}

function named(name: string, json: boolean): void {
  const record = layout.records.find(({ id }) => id === name);
  const bank = layout.banks.find(({ id }) => id === name);
  if (!record && !bank) {
    const known = [...layout.banks, ...layout.records].map(({ id }) => id).join(", ");
    throw new CommandError(EXIT.usage, `no bank or record is called ${name}; there are ${known}`);
  }
  if (json) {
    sayJson(record ?? bank);
    return;
  }
  // Bank and record "epc" share a name: both are shown, the bank first.
  if (bank) oneBank(bank);
  if (record) oneRecord(record);
}

function everyBank(): void {
  say(`${layout.name} layout ${layout.layout}, fingerprint ${formatFingerprint(layout.fingerprint)}`);
  for (const bank of layout.banks) {
    say("");
    oneBank(bank);
  }
  say("");
  say(`One record in full: plyframe layout NAME, where NAME is ${layout.records.map(({ id }) => id).join(", ")}`);
}

function oneBank(bank: BankSpec): void {
  say(paint.bold(`Bank ${bank.number} ${bank.title}, ${bank.words} words`));
  const rows = bank.regions.map(({ id, word, words, record, writer, lock, why }) => [
    `  ${span(word, word + words - 1)}`,
    id,
    record ?? "absent",
    writer,
    lock,
    why,
  ]);
  for (const line of columns([["  words", "region", "record", "written by", "lock", "why"], ...rows])) say(line);
}

function oneRecord(record: CompiledRecord): void {
  say(paint.bold(`${record.title}, ${record.bytes} bytes`));
  say(record.why);
  say("");
  for (const line of bitMap(record)) say(line);
  say("");
  const rows = listed(record).map((field) => [
    `${field.byte}`,
    `${field.bytes * 8}`,
    span(field.shift + field.width - 1, field.shift, ".."),
    field.array ?? field.id,
    field.array ? `${field.type} x ${elements(record, field)}` : field.type,
    rawRange(field),
    physicalRange(field),
    field.coldStart === null ? "" : `${field.coldStart}`,
    field.why,
  ]);
  const head = ["byte", "container", "bits", "field", "type", "raw", "value", "cold start", "why"];
  for (const line of columns([head, ...rows])) say(line);
  for (const field of record.fields) {
    for (const { bit, id, why } of field.flags ?? []) say(`  ${field.id} bit ${bit}: ${id}. ${why}`);
    for (const { raw, id, why } of field.names ?? []) say(`  ${field.id} ${raw}: ${id}. ${why ?? ""}`.trimEnd());
  }
  for (const tail of record.tails) say(`  then ${tail.id}: ${tail.bytes} bytes each. ${tail.why}`);
}

function span(from: number, to: number, between = "-"): string {
  return from === to ? `${from}` : `${from}${between}${to}`;
}

function elements(record: CompiledRecord, field: CompiledField): number {
  return record.fields.filter(({ array }) => array === field.array).length;
}

/** Fields with each array as its first element only. */
function listed(record: CompiledRecord): CompiledField[] {
  return record.fields.filter(({ index }) => index === undefined || index === 0);
}

function rawRange(field: CompiledField): string {
  if (field.min !== undefined) return [span(field.min, field.max!, " to "), ...sentinels(field)].join("; ");
  if (field.raw !== undefined) return `${field.raw}`;
  return field.type === "reserved" ? "0" : "";
}

function sentinels(field: CompiledField): string[] {
  return (field.sentinels ?? []).map(({ raw, id }) => `${raw} ${id}`);
}

function physicalRange(field: CompiledField): string {
  if (field.min === undefined || field.unit === "1") return "";
  const value = (raw: number) => (raw * field.num! + field.add!) / field.den!;
  return `${span(value(field.min), value(field.max!), " to ")} ${field.unit}`;
}

const CELL = 4;

/** One row a container of at most 32 bits, as wide as its bits, so that words line up under each other. */
function bitMap(record: CompiledRecord): string[] {
  const lines: string[] = [];
  const starts = [...new Set(listed(record).map(({ byte }) => byte))];
  for (const byte of starts) {
    const fields = listed(record)
      .filter((field) => field.byte === byte)
      .sort((a, b) => b.shift - a.shift);
    const cells = fields.map((field) => {
      const room = field.width * CELL * (field.bytes > 2 ? 0.5 : 1) - 1;
      const name = field.array ? `${field.array} x ${elements(record, field)}` : field.id;
      return name.slice(0, room).padEnd(room);
    });
    lines.push(`  byte ${String(byte).padStart(2)} |${cells.join("|")}|`);
  }
  return lines;
}

function against(name: string, json: boolean): void {
  const other = releasedLayouts.find((released) => String(released.layout) === name) ?? readLayout(name);
  const changes = compareLayouts(other, layout);
  if (json) for (const change of changes) sayJson(change);
  else describe(other, changes);
  if (changes.some(({ effect }) => effect === "breaks")) process.exitCode = EXIT.rejected;
}

function describe(other: Layout, changes: readonly Change[]): void {
  const names = [other, layout].map((one) => `layout ${one.layout} (${formatFingerprint(one.fingerprint)})`);
  say(`from ${names[0]} to ${names[1]}`);
  if (changes.length === 0) {
    say("no difference");
    return;
  }
  const rows = changes.map(({ effect, code, path, was, now }) => [effect, code, path, `${was} -> ${now}`]);
  for (const line of columns(rows)) say(line.startsWith("breaks") ? paint.red(line) : line);
  const breaking = changes.filter(({ effect }) => effect === "breaks").length;
  say(`${changes.length} differences, ${breaking} of them break readers of the other layout`);
}

function readLayout(file: string): Layout {
  let text: string;
  try {
    text = readFileSync(file === "-" ? 0 : file, "utf8");
  } catch (error) {
    const known = releasedLayouts.map((released) => released.layout).join(", ");
    throw new CommandError(
      EXIT.device,
      /^\d+$/.test(file)
        ? `--against ${file}: no layout of that number was released (there are: ${known}), and no such file exists`
        : systemSentence(file, error),
    );
  }
  try {
    const value = JSON.parse(text) as Layout;
    if (!Array.isArray(value.records) || !Array.isArray(value.banks) || typeof value.layout !== "number") {
      throw new Error("no records, banks and layout number in it");
    }
    return value;
  } catch (error) {
    throw new CommandError(EXIT.usage, `${file}: not a compiled layout (${(error as Error).message})`);
  }
}
