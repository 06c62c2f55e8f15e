/**
 * Emits straight-line code that judges and reads the sealed records of 16 bytes, the ones a Read of header and slots
 * brings, from four big-endian 32-bit words: once in TypeScript and once in C, from the same expressions.
 */
import { checksums } from "../model/checksums.ts";
import { type EmittedFile, layoutMark } from "../model/emitted-file.ts";
import { type CompiledField, type CompiledRecord, fieldIndex, type Layout, recordOf } from "../model/layout.ts";
import { pascalCase } from "../model/names.ts";
import { type Reason, reasons } from "../model/reasons.ts";

const BYTES = 16;
/** Field index that stands for the record as a whole. */
const WHOLE = 255;

/** The two languages differ in how a comparison is written and in how bits become a signed number. */
interface Language {
  readonly same: string;
  readonly other: string;
  /** `bits` moved to the top of 32 bits and down again by `right`. */
  signed(bits: string, left: number, right: number): string;
  number(value: number): string;
}

const typeScript: Language = {
  same: "===",
  other: "!==",
  signed: (bits, left, right) => `(${left > 0 ? `${bits} << ${left}` : bits}) >> ${right}`,
  number: String,
};

const c: Language = {
  same: "==",
  other: "!=",
  signed: (bits, left, right) => `(int32_t)(${left > 0 ? `${bits} << ${left}` : bits}) >> ${right}`,
  number: (value) => `${value}u`,
};

export function emitBulk(layout: Layout): EmittedFile[] {
  const user = layout.banks.find(({ id }) => id === "user")!;
  const placed = new Set(user.regions.map(({ record }) => record));
  const records = layout.records.filter((record) => placed.has(record.id) && fits(record));
  return [
    { path: "protocol/emitted/bulk.ts", text: typeScriptFile(layout, records) },
    { path: "protocol/emitted/bulk.h", text: cFile(layout, records) },
  ];
}

function fits({ bytes, fields, tails }: CompiledRecord): boolean {
  const seal = fields.find(({ type }) => type === "checksum");
  return bytes === BYTES && tails.length === 0 && seal?.algorithm === "seal" && seal.byte === BYTES - 2;
}

function typeScriptFile(layout: Layout, records: readonly CompiledRecord[]): string {
  const frame = recordOf(layout, "frame");
  return `// Emitted from ${layoutMark(layout)}: change protocol/spec/ and run "npm run emit".

/** What every byte before the seal adds to it, by its position: the seal is their sum without carry. */
const table = /* @__PURE__ */ (() => {
  const table = new Uint16Array(${BYTES - 2} * 256);
  for (let position = ${BYTES - 3}; position >= 0; position--) {
    for (let byte = 0; byte < 256; byte++) {
      let register = position === ${BYTES - 3} ? byte << 8 : table[(position + 1) * 256 + byte]!;
      for (let bit = 0; bit < 8; bit++) {
        register = ((register << 1) ^ (register & 0x8000 ? ${checksums.seal.poly} : 0)) & 0xffff;
      }
      table[position * 256 + byte] = register;
    }
  }
  return table;
})();

function sealOf(a: number, b: number, c: number, d: number): number {
  return (
    ${presetSum()} ^
${positions((position, byte) => `    table[${position > 0 ? `${position * 256} + (${byte})` : byte}]!`).join(" ^\n")}
  );
}
${records.map((record) => judgeInTypeScript(record, layout)).join("")}
/** Columns of the frame, one element a frame, by the ids of the fields. */
export interface FrameFields {
  readonly [field: string]: Int32Array | Uint32Array;
${columnFields(frame)
  .map((field) => `  readonly ${field.id}: ${arrayType(field)};`)
  .join("\n")}
}

/** Sequence of a frame. */
export function sequenceOf(a: number): number {
  return ${sequence(frame)};
}

/** Stores the raw values of a frame. */
export function storeFrame(to: FrameFields, row: number, a: number, b: number, c: number, d: number): void {
${columnFields(frame)
  .map((field) => `  to.${field.id}[row] = ${rawValue(field, typeScript)};`)
  .join("\n")}
}
`;
}

/** The expression for the sequence, which must lie in the first word. */
function sequence(frame: CompiledRecord): string {
  const raw = rawValue(frame.fields.find(({ id }) => id === "sequence")!, typeScript);
  if (/\b[bcd]\b/.test(raw)) throw new Error("frame.sequence: not in the first four bytes");
  return raw;
}

function judgeInTypeScript(record: CompiledRecord, layout: Layout): string {
  const lines = checks(record, layout, typeScript);
  return `
/** Verdict on the ${record.title.toLowerCase()} in four big-endian words${record.id === "header" ? "; `fingerprint-mismatch` for a whole one of another specification" : ""}. */
export function judge${pascalCase(record.id)}(a: number, b: number, c: number, d: number): number {
${lines.map(({ when, verdict, why }) => `  if (${when}) return ${verdict}; // ${why}`).join("\n")}
  return 0;
}
`;
}

function cFile(layout: Layout, records: readonly CompiledRecord[]): string {
  const frame = recordOf(layout, "frame");
  const user = layout.banks.find(({ id }) => id === "user")!;
  const regions = user.regions.filter(({ record }) => record !== null);
  const report = recordOf(layout, "tag_report");
  const done = report.fields[fieldIndex(report, "result")]!.names!.find(({ id }) => id === "done")!;
  const lines = regions.map((region, index) => {
    const judge = records.some(({ id }) => id === region.record) ? `ply_judge_${region.record}` : "0";
    return `    X(${index}, ${region.id}, ${region.word}u, ${region.words}u, ${judge})`;
  });
  return `/* Emitted from ${layoutMark(layout)}: change protocol/spec/ and run "npm run emit". */
#ifndef PLYFRAME_BULK_H
#define PLYFRAME_BULK_H

#include <stdint.h>

/* Polynomial of the seal, its preset carried through ${BYTES - 2} zero bytes, and the bytes it covers. */
#define PLY_BULK_POLY ${checksums.seal.poly}u
#define PLY_BULK_PRESET ${presetSum()}u
#define PLY_BULK_SEALED ${BYTES - 2}u

/* What every byte before the seal adds to it, by its position. Filled by whoever begins. */
static uint16_t ply_bulk_table[PLY_BULK_SEALED * 256u];

static inline uint32_t ply_bulk_seal(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    return PLY_BULK_PRESET ^
${positions((position, byte) => `        ply_bulk_table[${position * 256}u + (${byte.replaceAll(">>>", ">>")})]`).join(" ^\n")};
}
${records.map((record) => judgeInC(record, layout)).join("")}
/* Regions of the USER bank that hold a record: index, id, first word, words, and who judges it (0: not here). */
#define PLY_BULK_REGIONS(X) \\
${lines.join(" \\\n")}

/* Verdict on a region of which only a part was read. */
#define PLY_BULK_TOO_SHORT ${reasons["record-too-short"].number * 256 + WHOLE}u

/* Raw values of the link: the access was done, and the bank the records lie in. */
#define PLY_BULK_DONE ${done.raw}u
#define PLY_BULK_USER ${user.number}u

/* Raw values of the frame. */
${columnFields(frame).map(fieldInC).join("\n")}

/* Columns of the frame: id, C type. */
#define PLY_BULK_FIELDS(X) \\
${columnFields(frame)
  .map((field) => `    X(${field.id}, ${cType(field)})`)
  .join(" \\\n")}

#endif
`;
}

function judgeInC(record: CompiledRecord, layout: Layout): string {
  return `
/* ${record.title}. */
static inline uint16_t ply_judge_${record.id}(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
${checks(record, layout, c)
  .map(({ when, verdict, why }) => `    if (${inC(when)}) return ${verdict}u; /* ${why} */`)
  .join("\n")}
    return 0u;
}
`;
}

function fieldInC(field: CompiledField): string {
  const raw = inC(rawValue(field, c));
  const unused = [..."abcd"].filter((word) => !new RegExp(`\\b${word}\\b`).test(raw)).map((word) => `(void)${word}`);
  return `static inline ${cType(field)} ply_frame_${field.id}(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    ${unused.join(", ")};
    return (${cType(field)})${raw};
}`;
}

function cType(field: CompiledField): string {
  return isWide(field) ? "uint32_t" : "int32_t";
}

function inC(expression: string): string {
  return expression.replaceAll(">>>", ">>");
}

interface Check {
  readonly when: string;
  readonly verdict: number;
  readonly why: string;
}

/** Every reason to refuse the record, in the order of the plain decoder: empty, seal, kind, layout, then field by field. */
function checks(record: CompiledRecord, layout: Layout, language: Language): Check[] {
  const { fields } = record;
  const check = (when: string, reason: Reason, index: number): Check => ({
    when,
    verdict: reasons[reason].number * 256 + index,
    why: index === WHOLE ? reason : `${fields[index]!.id}: ${reason}`,
  });
  const seal = fields.findIndex(({ type }) => type === "checksum");
  const sealOf = language === c ? "ply_bulk_seal" : "sealOf";
  const rank = ({ role }: CompiledField) => (role === "kind" ? 0 : role === "layout" ? 1 : 2);
  const order = fields.map((_, index) => index).sort((x, y) => rank(fields[x]!) - rank(fields[y]!));
  return [
    check(`(a | b | c | d) ${language.same} ${language.number(0)}`, "record-empty", WHOLE),
    check(`${sealOf}(a, b, c, d) ${language.other} (d & ${language.number(0xffff)})`, "checksum-mismatch", seal),
    ...order.flatMap((index) => {
      const found = refusal(fields[index]!, language);
      return found ? [check(found.when, found.reason, index)] : [];
    }),
    ...fields.flatMap((field, index) => {
      if (field.path !== "header.fingerprint") return [];
      const own = language.number(layout.fingerprint);
      return [check(`${rawValue(field, language)} ${language.other} ${own}`, "fingerprint-mismatch", index)];
    }),
  ];
}

/** When a field's raw value is refused; null when every value that fits is allowed. */
function refusal(field: CompiledField, language: Language): { when: string; reason: Reason } | null {
  const raw = rawValue(field, language);
  const { number, other } = language;
  switch (field.type) {
    case "constant": {
      const reason: Reason =
        field.role === "kind" ? "kind-unexpected" : field.role === "layout" ? "layout-unknown" : "marker-mismatch";
      return { when: `${raw} ${other} ${number(field.raw!)}`, reason };
    }
    case "reserved":
      return { when: `${raw} ${other} ${number(0)}`, reason: "reserved-bit-set" };
    case "flags": {
      const unnamed = 2 ** field.width - 1 - field.named!;
      return unnamed === 0
        ? null
        : { when: `(${raw} & ${number(unnamed)}) ${other} ${number(0)}`, reason: "reserved-bit-set" };
    }
    case "enumeration":
      return {
        when: field.names!.map((name) => `${raw} ${other} ${number(name.raw)}`).join(" && "),
        reason: "name-unknown",
      };
    case "checksum":
      return null;
    default:
      return rangeRefusal(field, raw, language);
  }
}

function rangeRefusal(field: CompiledField, raw: string, { number, other }: Language) {
  const lowest = field.signed ? -(2 ** (field.width - 1)) : 0;
  const highest = field.signed ? 2 ** (field.width - 1) - 1 : 2 ** field.width - 1;
  const value = (limit: number) => (field.signed ? String(limit) : number(limit));
  const sentinels = new Set(field.sentinels!.map((sentinel) => sentinel.raw));
  let [low, high] = [field.min!, field.max!];
  while (sentinels.delete(high + 1)) high++;
  while (sentinels.delete(low - 1)) low--;
  const outside = [
    ...(low > lowest ? [`${raw} < ${value(low)}`] : []),
    ...(high < highest ? [`${raw} > ${value(high)}`] : []),
  ].join(" || ");
  if (outside === "") return null;
  const spared = [...sentinels].map((sentinel) => ` && ${raw} ${other} ${value(sentinel)}`).join("");
  return { when: spared === "" ? outside : `(${outside})${spared}`, reason: "value-out-of-range" as const };
}

/** Raw value of a field from the words a to d: an unsigned one, or a signed one where the field is. */
function rawValue(field: CompiledField, language: Language): string {
  const { byte, bytes, little, shift, width, signed, path } = field;
  if (little || (bytes !== 2 && bytes !== 4)) throw new Error(`${path}: not a big-endian container of 2 or 4 bytes`);
  const word = "abcd"[byte >> 2]!;
  const isUpper = byte % 4 === 0;
  const isSplit = bytes === 4 && !isUpper;
  const container = isSplit ? `((${word} << 16) | (${"abcd"[(byte >> 2) + 1]} >>> 16))` : word;
  const lowest = bytes === 2 && isUpper ? shift + 16 : shift;
  if (signed) return `(${language.signed(container, 32 - lowest - width, 32 - width)})`;
  if (width === 32) return language === c ? container : `(${container} >>> 0)`;
  const moved = lowest > 0 ? `(${container} >>> ${lowest})` : container;
  return lowest + width === 32 ? moved : `(${moved} & ${language.number(2 ** width - 1)})`;
}

/** Fields that say something of their own: neither constant, reserved nor seal. */
function columnFields(record: CompiledRecord): CompiledField[] {
  return record.fields.filter(({ type }) => !["constant", "reserved", "checksum"].includes(type));
}

function isWide({ signed, width }: CompiledField): boolean {
  return !signed && width === 32;
}

function arrayType(field: CompiledField): string {
  return isWide(field) ? "Uint32Array" : "Int32Array";
}

/** One term for each sealed byte, by its position and the expression that gives it. */
function positions(term: (position: number, byte: string) => string): string[] {
  return Array.from({ length: BYTES - 2 }, (_, position) => {
    const word = "abcd"[position >> 2]!;
    const shift = 24 - 8 * (position % 4);
    const byte = shift === 24 ? `${word} >>> 24` : shift === 0 ? `${word} & 255` : `(${word} >>> ${shift}) & 255`;
    return term(position, byte);
  });
}

/** The preset carried through as many zero bytes as the seal covers. */
function presetSum(): number {
  let register: number = checksums.seal.init;
  for (let bit = 0; bit < 8 * (BYTES - 2); bit++) {
    register = ((register << 1) ^ (register & 0x8000 ? checksums.seal.poly : 0)) & 0xffff;
  }
  return register;
}
