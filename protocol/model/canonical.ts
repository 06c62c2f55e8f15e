/**
 * The canonical text of a specification and the fingerprint made from it. The text holds meaning and shape (places, widths,
 * scales, units, rounding, ranges, names, sentinels, checksum parameters) of the tag's memory and no prose; the link has a
 * version of its own, so that a new message does not make every tag look foreign. Format: protocol/FINGERPRINT.md.
 */
import { makeChecksum } from "../bytes/crc.ts";
import { type ChecksumId, checksums } from "./checksums.ts";
import { unitSymbol } from "./units.ts";
import type { BankSpec, FieldSpec, NumberField, RecordSpec, Specification } from "./vocabulary.ts";

/** One ASCII line for each thing in tag memory, each ended by a line feed. */
export function canonicalText(specification: Specification): string {
  const placed = new Set(specification.banks.flatMap((bank) => bank.regions.map((region) => region.record)));
  const records = specification.records.filter(({ id }) => placed.has(id));
  const used = new Set(records.flatMap((record) => record.fields.flatMap(algorithmOf)));
  const lines = [
    `${specification.name} layout ${specification.layout}`,
    ...[...used].sort().map(checksumLine),
    ...records.flatMap(recordLines),
    ...specification.banks.flatMap(bankLines),
  ];
  return `${lines.join("\n")}\n`;
}

const crc32 = makeChecksum(checksums.crc32);

/** CRC-32/ISO-HDLC of the canonical text. */
export function fingerprint(specification: Specification): number {
  const text = canonicalText(specification);
  const bytes = new TextEncoder().encode(text);
  return crc32(bytes, 0, bytes.length);
}

/** A fingerprint as people and captures write it: eight lower-case hex digits. */
export function formatFingerprint(value: number): string {
  return hex(value, 8);
}

function algorithmOf(field: FieldSpec): ChecksumId[] {
  return field.type === "checksum" ? [field.algorithm] : [];
}

function hex(value: number, digits: number): string {
  return value.toString(16).padStart(digits, "0");
}

function checksumLine(id: ChecksumId): string {
  const { width, poly, init, reflected, xorout } = checksums[id];
  const digits = width / 4;
  const order = reflected ? "reflected" : "forward";
  return `checksum ${id} ${width} poly ${hex(poly, digits)} init ${hex(init, digits)} ${order} xorout ${hex(xorout, digits)}`;
}

function recordLines(record: RecordSpec): string[] {
  return [`record ${record.id} ${record.bytes}`, ...record.fields.map(fieldLine)];
}

function fieldLine(field: FieldSpec): string {
  const container = `byte ${field.at} ${field.order ?? "big"} ${field.container}`;
  if (field.type === "array") {
    return `field ${field.id} ${container} array ${field.count} ${field.element.type} ${quantity(field.element)}`;
  }
  return `field ${field.id} ${container} bits ${field.bits[0]}..${field.bits[1]} ${field.type}${meaning(field)}`;
}

function meaning(field: Exclude<FieldSpec, { type: "array" }>): string {
  switch (field.type) {
    case "unsigned":
    case "signed":
      return ` ${quantity(field)}`;
    case "flags":
      return field.flags.map(({ bit, id }) => ` ${bit}=${id}`).join("");
    case "enumeration":
      return field.names.map(({ raw, id }) => ` ${raw}=${id}`).join("");
    case "constant":
      return ` ${field.role} ${field.raw}`;
    case "checksum":
      return ` ${field.algorithm} over ${field.over[0]}..${field.over[1]}`;
    case "reserved":
      return "";
  }
}

function quantity(field: Omit<NumberField, "id" | "why" | "at" | "container" | "bits" | "order">): string {
  const { num, den, add = 0 } = field.scale;
  const sentinels = (field.sentinels ?? []).map(({ raw, id, means }) => ` ${raw}=${id}:${means}`).join("");
  const range = `range ${field.range[0]}..${field.range[1]}`;
  return `unit ${unitSymbol(field.unit)} scale ${num}/${den}+${add} ${field.rounding} ${field.outOfRange} ${range}${sentinels}`;
}

function bankLines(bank: BankSpec): string[] {
  return [
    `bank ${bank.id} ${bank.number} ${bank.words}`,
    ...bank.regions.map(({ id, word, words, record }) => `region ${id} ${word} ${words} ${record ?? "absent"}`),
  ];
}
