/** Emits protocol/MEMORY-MAP.md: every word of the four banks, every field, every message and every reason code. */
import { wordsOf } from "../model/address.ts";
import { checksums } from "../model/checksums.ts";
import { decimal, type EmittedFile, hexOf, layoutMark, physicalRange, rawRange } from "../model/emitted-file.ts";
import type { CompiledField, CompiledRecord, Layout } from "../model/layout.ts";
import { reasons } from "../model/reasons.ts";
import type { BankSpec, Region } from "../model/vocabulary.ts";

export function emitMemoryMap(layout: Layout): EmittedFile[] {
  const regions = layout.banks.flatMap((bank) => bank.regions);
  const placed = layout.records.filter(({ id }) => regions.some(({ record }) => record === id));
  const linked = layout.records.filter((record) => !placed.includes(record));
  const parts = [
    preface(layout),
    "## The four banks",
    ...layout.banks.map(bankSection),
    "## Records of tag memory",
    ...placed.map((record) =>
      placedRecord(
        record,
        regions.filter((region) => region.record === record.id),
      ),
    ),
    linkSection(layout),
    ...linked.map(linkRecord),
    checksumSection(layout),
    reasonSection(),
  ];
  return [{ path: "protocol/MEMORY-MAP.md", text: `${parts.join("\n\n")}\n` }];
}

function preface(layout: Layout): string {
  return `# Memory map of ${layout.name}, ${layoutMark(layout)}

This page is emitted from \`protocol/spec/\` by \`npm run emit\`; change the specification, not the page.

![Words and bits of the USER bank](memory-map.svg)

How to read it:

- A word has 16 bits; word addresses count from the start of the bank, as Gen2's Read and Write do. Bit 15 is the most significant bit of a word and the first on the air.
- \`2 [7:0], 3 [15:0]\` means bits 7 to 0 of word 2 followed by bits 15 to 0 of word 3. In a record, words count from the record's first word.
- Value = the formula in the column *scale*, in the unit named there. Signed numbers are two's complement.
- A raw value outside range and special values is rejected with \`value-out-of-range\`. *Absent* means there is no value; *saturated* means the highest value or more.
- *After a cold start*: the raw value the firmware starts from; \`kept\` is non-volatile, \`computed\` is made from other words.
- Each field has an anchor, record and field joined by a hyphen: \`#frame-pressure\`.`;
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.map((cell) => cell.replaceAll("|", "\\|")).join(" | ")} |`;
  return [line(head), line(head.map(() => "---")), ...rows.map(line)].join("\n");
}

function bankSection(bank: BankSpec): string {
  const rows = bank.regions.map(({ id, word, words, record, writer, lock, why }) => [
    words === 1 ? `${word}` : `${word} to ${word + words - 1}`,
    words === 1 ? hexWord(word) : `${hexWord(word)} to ${hexWord(word + words - 1)}`,
    `\`${id}\``,
    record === null ? "not implemented" : `[${record}](#record-${hyphens(record)})`,
    record === null ? "nobody" : writer,
    lock,
    why,
  ]);
  return `### Bank ${bank.number.toString(2).padStart(2, "0")}: ${bank.title}, ${bank.words} words

${table(["words", "hex", "region", "record", "written by", "lock in service", "why"], rows)}`;
}

function hexWord(word: number): string {
  return `${word.toString(16).toUpperCase().padStart(2, "0")}h`;
}

function hyphens(id: string): string {
  return id.replaceAll("_", "-");
}

function heading(record: CompiledRecord): string {
  return `<a id="record-${hyphens(record.id)}"></a>

### ${record.title} (\`${record.id}\`)`;
}

/** Fields with each array as its first element only. */
function listed(record: CompiledRecord): CompiledField[] {
  return record.fields.filter(({ index }) => index === undefined || index === 0);
}

function anchored(record: CompiledRecord, field: CompiledField): string {
  const id = field.array ?? field.id;
  return `<a id="${hyphens(record.id)}-${hyphens(id)}"></a>\`${id}\``;
}

function count(record: CompiledRecord, field: CompiledField): number {
  return record.fields.filter(({ array }) => array !== undefined && array === field.array).length;
}

function placedRecord(record: CompiledRecord, regions: readonly Region[]): string {
  const fields = listed(record);
  const where = regions.map(({ id, word }) => `\`${id}\` at word ${word}`).join(", ");
  const bits = fields.map((field) => [anchored(record, field), wordBits(record, field), ...numbers(record, field)]);
  const life = fields.map((field) => [
    `\`${field.array ?? field.id}\``,
    field.coldStart === null ? "" : `${field.coldStart}`,
    distinct(regions.map(({ writer }) => field.writer ?? writer)),
    distinct(regions.map(({ lock }) => field.lock ?? lock)),
    field.why,
  ]);
  return `${heading(record)}

${record.why} ${plural(record.bytes / 2, "word")}: ${where}.

${table(["field", "words [bits]", ...NUMBERS], bits)}

${table(["field", "after a cold start", "written by", "lock in service", "why"], life)}${members(record)}`;
}

function linkRecord(record: CompiledRecord): string {
  const rows = listed(record).map((field) => [
    anchored(record, field),
    byteBits(field),
    ...numbers(record, field),
    field.why,
  ]);
  const tails = record.tails.map((tail) => [
    `<a id="${hyphens(record.id)}-${hyphens(tail.id)}"></a>\`${tail.id}\``,
    `then ${tail.bytes * 8} bits each`,
    "array",
    `as many as \`${record.fields[tail.count]!.id}\` says`,
    "",
    "",
    "",
    tail.why,
  ]);
  const all = [...rows, ...tails];
  const body = all.length === 0 ? "No payload." : table(["field", "bytes [bits]", ...NUMBERS, "why"], all);
  return `${heading(record)}

${record.why} ${plural(record.bytes, "byte")}${record.tails.length > 0 ? " and what follows" : ""}.

${body}${members(record)}`;
}

const NUMBERS = ["type", "scale", "raw", "value", "special values"] as const;

/** Type, scale, raw range, value range and special values of a field. */
function numbers(record: CompiledRecord, field: CompiledField): string[] {
  const elements = count(record, field);
  const type = elements > 0 ? `${elements} x ${field.type}` : field.type;
  switch (field.type) {
    case "unsigned":
    case "signed": {
      const special = field.sentinels!.map(({ raw, id, means }) => `${raw} = \`${id}\` (${means})`).join(", ");
      const plain = field.unit === "1" && field.num === 1 && field.den === 1 && field.add === 0;
      const [raw, value] = [rawRange(field), plain ? "" : physicalRange(field)];
      return [type, plain ? "raw" : scale(field), raw, value, special];
    }
    case "flags":
      return [type, "", `bits of ${hexOf(field.named!, Math.ceil(field.width / 4))}`, "", ""];
    case "enumeration":
      return [type, "", field.names!.map(({ raw }) => `${raw}`).join(", "), "", ""];
    case "constant":
      return [type, "", `${field.raw} (${hexOf(field.raw!, Math.ceil(field.width / 4))})`, "", ""];
    case "reserved":
      return [type, "", "0", "", ""];
    case "checksum":
      return [type, "", `[${field.algorithm}](#checksums)`, `over bytes ${field.over![0]} to ${field.over![1]}`, ""];
  }
}

function scale({ num, den, add, unit, rounding, outOfRange }: CompiledField): string {
  const product = num === 1 ? "raw" : `raw x ${num}`;
  const sum = add === 0 ? product : `(${product} + ${add})`;
  const quotient = den === 1 ? sum : `${sum} / ${decimal(den!)}`;
  const way = [rounding === "floor" ? "rounded down" : "", outOfRange === "saturate" ? "saturates" : ""].filter(
    Boolean,
  );
  return `${quotient}${unit === "1" ? "" : ` ${unit}`}${way.length > 0 ? `; ${way.join(", ")}` : ""}`;
}

/** Bits of a big-endian slice by word, most significant first. */
function wordBits(record: CompiledRecord, field: CompiledField): string {
  const elements = count(record, field);
  if (elements > 0) {
    const { word } = wordsOf(field);
    return `${word} to ${word + (elements * field.bytes) / 2 - 1}, one each`;
  }
  const first = (field.byte % 2) * 8;
  const parts: string[] = [];
  let bit = first + field.bytes * 8 - field.shift - field.width;
  const end = bit + field.width;
  while (bit < end) {
    const stop = Math.min(end, (Math.floor(bit / 16) + 1) * 16);
    parts.push(
      `${Math.floor(field.byte / 2) + Math.floor(bit / 16)} ${range(15 - (bit % 16), 15 - ((stop - 1) % 16))}`,
    );
    bit = stop;
  }
  return parts.join(", ");
}

function range(msb: number, lsb: number): string {
  return msb === lsb ? `[${msb}]` : `[${msb}:${lsb}]`;
}

function byteBits(field: CompiledField): string {
  const last = field.byte + field.bytes - 1;
  const bytes = last === field.byte ? `${field.byte}` : `${field.byte} to ${last}`;
  const whole = field.width === field.bytes * 8;
  return whole ? bytes : `${bytes} ${range(field.shift + field.width - 1, field.shift)}`;
}

function plural(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? "" : "s"}`;
}

function distinct(words: readonly string[]): string {
  return [...new Set(words)].join(", ");
}

/** Tables of flags and names, empty when the record has none. */
function members(record: CompiledRecord): string {
  const tables = record.fields.flatMap((field) => {
    if (field.flags) {
      const rows = [...field.flags]
        .sort((a, b) => b.bit - a.bit)
        .map(({ bit, id, why }) => [`${bit}`, `\`${id}\``, why]);
      return [`Flags of \`${field.id}\`; any other bit must be zero:\n\n${table(["bit", "flag", "why"], rows)}`];
    }
    if (field.names) {
      const rows = field.names.map(({ raw, id, why }) => [`${raw}`, `\`${id}\``, why ?? ""]);
      return [`Names of \`${field.id}\`:\n\n${table(["raw", "name", "why"], rows)}`];
    }
    return [];
  });
  return tables.map((text) => `\n\n${text}`).join("");
}

function linkSection({ messages }: Layout): string {
  const rows = messages.map(({ code, id, direction, answer, record }) => [
    hexOf(code, 2),
    `\`${id}\``,
    direction,
    answer === undefined ? "" : `\`${answer}\``,
    `[${record}](#record-${hyphens(record)})`,
  ]);
  return `## The link

A message is one type octet, a request id of two octets and the payload record. On the wire: message, its CRC-32 in four octets, big-endian; the whole in COBS, ended by one zero octet.

${table(["type", "message", "direction", "answered by", "payload"], rows)}`;
}

function checksumSection(layout: Layout): string {
  const rows = Object.entries(checksums).map(([id, { width, poly, init, reflected, xorout, why }]) => [
    `\`${id}\``,
    `${width}`,
    hexOf(poly, width / 4),
    hexOf(init, width / 4),
    reflected ? "yes" : "no",
    hexOf(xorout, width / 4),
    why,
  ]);
  return `## Checksums

Parameters by the terms of the CRC catalogue. Why the seal is what it is: [SEAL.md](SEAL.md). The fingerprint of ${layoutMark(layout)} and how to compute it: [FINGERPRINT.md](FINGERPRINT.md).

${table(["id", "width", "polynomial", "preset", "reflected", "final XOR", "used for"], rows)}`;
}

function reasonSection(): string {
  const rows = Object.entries(reasons).map(([code, { number, says }]) => [
    `${number}`,
    `<a id="reason-${code}"></a>\`${code}\``,
    says,
  ]);
  return `## Reason codes

The same list everywhere; the number stands where a byte is wanted, and in the link's error message.

${table(["number", "code", "meaning"], rows)}`;
}
