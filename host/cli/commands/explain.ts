/** `plyframe explain`: a hex dump, word by word. */
import { readFileSync } from "node:fs";
import {
  type CompiledRecord,
  chooseSlot,
  type Explanation,
  explain,
  layout,
  parseHex,
  recordOf,
  sentence,
} from "../../../protocol/index.ts";
import { CommandError, EXIT } from "../exit.ts";
import { columns, note, paint, say, sayJson } from "../terminal.ts";

export interface ExplainOptions {
  readonly word?: string;
  readonly as?: string;
  readonly json?: boolean;
}

interface Part {
  readonly region: string | null;
  readonly word: number | null;
  readonly record: CompiledRecord;
  readonly at: number;
  readonly end: number;
}

const user = layout.banks.find(({ id }) => id === "user")!;

export function explainCommand(hex: readonly string[], options: ExplainOptions): void {
  const fromStdin = hex.length === 1 && hex[0] === "-";
  const bytes = dumpBytes(fromStdin ? readFileSync(0, "utf8") : hex.join(" "), fromStdin ? "standard input" : "hex");
  if (bytes.length === 0) throw new CommandError(EXIT.usage, "nothing to explain: no hex digit given");
  const parts = options.as === undefined ? placed(bytes, startWord(bytes, options.word)) : [alone(bytes, options.as)];
  let rejected = 0;
  for (const part of parts) {
    const explanation = explain(part.record, bytes, part.at, part.end);
    if (explanation.fault) rejected++;
    if (options.json) sayJson(asJson(part, explanation));
    else print(part, explanation);
  }
  if (!options.json) slots(bytes, parts);
  if (rejected > 0) process.exitCode = EXIT.rejected;
}

/** Bytes of a pasted dump; address columns and the text column of common dump programs are left out. */
function dumpBytes(text: string, name: string): Uint8Array {
  const bytes: number[] = [];
  for (const [index, line] of text.split("\n").entries()) {
    // Blanks take the place of what is left out, so that a fault is found at the character it was typed at.
    const blank = (found: string) => " ".repeat(found.length);
    const digits = line
      .replace(/^\s*(0x)?[0-9a-fA-F]{4,8}:\s/, blank)
      .replace(/\s\s?\|.*\|\s*$/, blank)
      .replace(/\b0x/g, blank);
    const parsed = parseHex(digits);
    if (!(parsed instanceof Uint8Array)) {
      const what =
        parsed.code === "hex-odd-length"
          ? `an odd number of hex digits (${parsed.actual})`
          : `${JSON.stringify(parsed.actual)} is no hex digit`;
      const place = `${name}:${index + 1}, character ${parsed.place + 1}`;
      throw new CommandError(EXIT.usage, `${place}: ${what} [${parsed.code}]`);
    }
    bytes.push(...parsed);
  }
  return Uint8Array.from(bytes);
}

function alone(bytes: Uint8Array, name: string): Part {
  const record = layout.records.find(({ id }) => id === name);
  if (!record) {
    const known = layout.records.map(({ id }) => id).join(", ");
    throw new CommandError(EXIT.usage, `--as: no record is called ${name}; there are ${known}`);
  }
  return { region: null, word: null, record, at: 0, end: bytes.length };
}

function startWord(bytes: Uint8Array, given: string | undefined): number {
  if (given !== undefined) {
    const word = Number(given);
    if (user.regions.some((region) => region.word === word)) return word;
    const starts = user.regions.map((region) => `${region.word} ${region.id}`).join(", ");
    throw new CommandError(EXIT.usage, `--word ${given}: no region of USER starts there; they start at ${starts}`);
  }
  for (const { word, record } of user.regions) {
    const kind = recordOf(layout, record!).fields.find(({ role }) => role === "kind")!;
    const octet = bytes[kind.shift >= 8 ? 0 : 1] ?? 0;
    const raw = kind.shift % 8 === 4 ? octet >> 4 : octet & 15;
    const other = kind.shift >= 8 ? true : bytes[0] === 0;
    if (raw === kind.raw && other) return word;
  }
  throw new CommandError(
    EXIT.usage,
    "no kind of sealed record starts like this; say where it lies with --word, or what it is with --as",
  );
}

function placed(bytes: Uint8Array, start: number): Part[] {
  const parts: Part[] = [];
  for (const { id, word, words, record } of user.regions) {
    const at = (word - start) * 2;
    if (at < 0 || at >= bytes.length || record === null) continue;
    const end = Math.min(at + words * 2, bytes.length);
    parts.push({ region: id, word, record: recordOf(layout, record), at, end });
  }
  const beyond = start * 2 + bytes.length - user.words * 2;
  if (beyond > 0) note(`plyframe: ${beyond} bytes lie beyond the end of USER and are not explained`);
  return parts;
}

function print(part: Part, { record, fields, missing, fault }: Explanation): void {
  const place = part.region === null ? "" : ` in ${part.region}, word ${part.word}`;
  say(`${paint.bold(record.title)}${place}: ${fault ? paint.red(fault.code) : paint.green("good")}`);
  const rows = fields.map(({ field, hex, byte, raw, meaning, reason }) => [
    part.word === null ? `byte ${byte}` : `word ${part.word + (byte - part.at) / 2}`,
    `${field.shift + field.width - 1}..${field.shift}`,
    hex.replace(/(.{4})(?=.)/g, "$1 "),
    field.id,
    `${raw}`,
    reason ? paint.red(`${meaning}  <- ${reason}`) : meaning,
  ]);
  for (const line of columns([["  where", "bits", "hex", "field", "raw", "meaning"], ...rows.map(indented)], [4]))
    say(line);
  if (missing.length > 0) say(`  did not arrive: ${missing.join(", ")}`);
  if (fault) say(`  ${sentence(fault)}`);
  say("");
}

function indented(row: string[]): string[] {
  return [`  ${row[0]}`, ...row.slice(1)];
}

function slots(bytes: Uint8Array, parts: readonly Part[]): void {
  const a = parts.find(({ region }) => region === "slot_a");
  const b = parts.find(({ region }) => region === "slot_b");
  if (!a || !b) return;
  const choice = chooseSlot(a.record, bytes, a.at, b.at);
  const notes = choice.notes.length > 0 ? ` (${choice.notes.join(", ")})` : "";
  say(
    choice.slot
      ? `Newest whole frame: slot ${choice.slot.toUpperCase()}${notes}`
      : `No frame: ${sentence(choice.fault!)}`,
  );
}

function asJson(part: Part, { record, fields, missing, fault }: Explanation): object {
  return {
    record: record.id,
    region: part.region,
    word: part.word,
    fault,
    missing,
    fields: fields.map(({ field, byte, hex, raw, meaning, reason }) => ({
      field: field.id,
      byte: byte - part.at,
      bits: [field.shift + field.width - 1, field.shift],
      hex,
      raw,
      meaning,
      reason,
    })),
  };
}
