/** `plyframe explain`: a hex dump, word by word. */
import { readFileSync } from "node:fs";
import { chooseSlot, type Explanation, explain, layout, sentence } from "../../../protocol/index.ts";
import { parseDump } from "../../dump/hex-dump.ts";
import { bytesBeyond, guessedWord, type Part, placedParts, user } from "../../dump/placed-parts.ts";
import { CommandError, EXIT } from "../exit.ts";
import { columns, note, paint, say, sayJson } from "../terminal.ts";

export interface ExplainOptions {
  readonly word?: string;
  readonly as?: string;
  readonly json?: boolean;
}

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

function dumpBytes(text: string, name: string): Uint8Array {
  const parsed = parseDump(text);
  if (parsed instanceof Uint8Array) return parsed;
  const what =
    parsed.code === "hex-odd-length"
      ? `an odd number of hex digits (${parsed.actual})`
      : `${JSON.stringify(parsed.actual)} is no hex digit`;
  throw new CommandError(EXIT.usage, `${name}:${parsed.line}, character ${parsed.character}: ${what} [${parsed.code}]`);
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
  const guessed = guessedWord(bytes);
  if (guessed !== null) return guessed;
  throw new CommandError(
    EXIT.usage,
    "no kind of sealed record starts like this; say where it lies with --word, or what it is with --as",
  );
}

function placed(bytes: Uint8Array, start: number): Part[] {
  const beyond = bytesBeyond(bytes.length, start);
  if (beyond > 0) note(`plyframe: ${beyond} bytes lie beyond the end of USER and are not explained`);
  return placedParts(bytes.length, start);
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
