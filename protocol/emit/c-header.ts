/** Emits the C header of the USER bank: word addresses, shifts, masks, limits, sentinels, reason codes, static assertions. */
import { checksums } from "../model/checksums.ts";
import { type EmittedFile, hexOf, layoutMark, physicalRange } from "../model/emitted-file.ts";
import { type CompiledField, type CompiledRecord, type Layout, recordOf } from "../model/layout.ts";
import { reasons } from "../model/reasons.ts";
import type { Region } from "../model/vocabulary.ts";

export function emitCHeader(layout: Layout): EmittedFile[] {
  const user = layout.banks.find(({ id }) => id === "user")!;
  const regions = user.regions.filter(({ record }) => record !== null);
  const records = [...new Set(regions.map(({ record }) => record!))].map((id) => recordOf(layout, id));
  const text = `/* Emitted from ${layoutMark(layout)}: change protocol/spec/ and run "npm run emit". */
#ifndef PLYFRAME_LAYOUT_H
#define PLYFRAME_LAYOUT_H

#include <stdint.h>

/* Word addresses are those of a Gen2 tag's USER bank, words have 16 bits. A field of two words has its high half in
   the first. WORD is counted from the record's start; SHIFT and MASK are those of the container; MASK is not shifted. */

#define PLY_LAYOUT ${layout.layout}u
#define PLY_FINGERPRINT ${literal(layout.fingerprint, 32, false)}
#define PLY_USER_WORDS ${user.words}u

/* The seal: CRC, polynomial ${hexOf(checksums.seal.poly, 4)}, most significant bit first, no final XOR; odd-weight preset. */
#define PLY_SEAL_PRESET ${hexOf(checksums.seal.init, 4)}u
#define PLY_SEAL_POLY ${hexOf(checksums.seal.poly, 4)}u
/* The register's change for every value of its top 4 or 8 bits, for a seal by nibble or by byte. */
#define PLY_SEAL_BY_NIBBLE { ${table(4)} }
#define PLY_SEAL_BY_BYTE { \\
${rows(table(8))} }

/* Where the records lie. */
${regions.map(regionLine).join("\n")}
${records.map(recordLines).join("")}
/* Reason codes; 0 is good. */
${Object.entries(reasons)
  .map(([code, { number }]) => `#define PLY_REASON_${upper(code)} ${number}u`)
  .join("\n")}

#ifdef PLY_WITH_NAMES
/* Name of a reason code, for a trace; leave PLY_WITH_NAMES undefined to keep the texts out of flash. */
static inline const char *ply_reason_name(uint8_t reason)
{
    switch (reason) {
${Object.entries(reasons)
  .map(([code, { number }]) => `    case ${number}u: return "${code}";`)
  .join("\n")}
    default: return reason == 0u ? "good" : "unknown";
    }
}
#endif

/* A wrong layout stops the compiler: an array of negative size. */
#define PLY_ASSERT(name, holds) typedef char ply_assert_##name[(holds) ? 1 : -1]

${assertions(regions, records).join("\n")}

#endif
`;
  return [{ path: "protocol/firmware/plyframe_layout.h", text }];
}

/** Remainders of the seal's polynomial for every value of the register's top `bits` bits. */
function table(bits: number): string {
  return Array.from({ length: 2 ** bits }, (_, top) => {
    let register = top << (16 - bits);
    for (let i = 0; i < bits; i++)
      register = ((register << 1) ^ (register & 0x8000 ? checksums.seal.poly : 0)) & 0xffff;
    return `${hexOf(register, 4)}u`;
  }).join(", ");
}

function rows(values: string): string {
  return (values.match(/(?:0x\w+u(?:, )?){1,16}/g) ?? []).map((row) => `    ${row.trim()}`).join(" \\\n");
}

function upper(id: string): string {
  return id.replaceAll("-", "_").toUpperCase();
}

function regionLine({ id, word, words, why }: Region): string {
  return `#define PLY_WORD_${upper(id)} ${word}u /* ${words} words. ${why} */`;
}

/** A C literal whose type holds it on a target with 16-bit int. */
function literal(value: number, bits: number, signed: boolean): string {
  if (!signed) return bits > 16 ? `${value}UL` : `${value}u`;
  const lowest = -(2 ** (Math.max(bits, 16) - 1));
  const suffix = bits > 16 ? "L" : "";
  if (value === lowest) return `(${value + 1}${suffix} - 1${suffix})`;
  return value < 0 ? `(${value}${suffix})` : `${value}${suffix}`;
}

function recordLines(record: CompiledRecord): string {
  const fields = record.fields.filter(({ index }) => index === undefined || index === 0);
  const prefix = `PLY_${upper(record.id)}`;
  return `
/* ${record.title}: ${record.why} */
#define ${prefix}_WORDS ${record.bytes / 2}u
${fields.map((field) => fieldLines(record, field, prefix)).join("")}`;
}

function fieldLines(record: CompiledRecord, field: CompiledField, prefix: string): string {
  const name = `${prefix}_${upper(field.array ?? field.id)}`;
  const count = record.fields.filter(({ array }) => array !== undefined && array === field.array).length;
  const lines = [`/* ${comment(field, count)} */`, `#define ${name}_WORD ${field.byte / 2}u`];
  if (count > 0) lines.push(`#define ${name}_COUNT ${count}u`);
  else {
    lines.push(`#define ${name}_SHIFT ${field.shift}u`);
    lines.push(`#define ${name}_MASK ${literal(2 ** field.width - 1, field.bytes * 8, false)}`);
  }
  const value = (raw: number) => literal(raw, field.bytes * 8, field.signed);
  if (field.raw !== undefined) lines.push(`#define ${name} ${literal(field.raw, 16, false)}`);
  if (field.min !== undefined)
    lines.push(`#define ${name}_MIN ${value(field.min)}`, `#define ${name}_MAX ${value(field.max!)}`);
  for (const { raw, id } of field.sentinels ?? []) lines.push(`#define ${name}_${upper(id)} ${value(raw)}`);
  for (const { bit, id, why } of field.flags ?? [])
    lines.push(`#define ${name}_${upper(id)} ${literal(2 ** bit, 16, false)} /* ${why} */`);
  for (const { raw, id } of field.names ?? []) lines.push(`#define ${name}_${upper(id)} ${literal(raw, 16, false)}`);
  return `${lines.join("\n")}\n`;
}

function comment(field: CompiledField, count: number): string {
  const word = field.byte / 2;
  const bits = `bits ${field.shift + field.width - 1}..${field.shift}`;
  const place = field.bytes > 2 ? `words ${word} and ${word + 1}, ${bits}` : `word ${word}, ${bits}`;
  const range = field.min === undefined ? "" : `; raw ${field.min} to ${field.max}, ${physicalRange(field)}`;
  return `${field.array ?? field.id}: ${place}${count > 0 ? `, ${count} elements` : ""}${range}. ${field.why}`;
}

function assertions(regions: readonly Region[], records: readonly CompiledRecord[]): string[] {
  const end = (id: string) => {
    const { word, record } = regions.find((region) => region.id === id)!;
    return `${word}u + PLY_${upper(record!)}_WORDS`;
  };
  const follows = regions.slice(1).map((region, i) => {
    const before = regions[i]!.id;
    return `PLY_ASSERT(${region.id}_follows_${before}, PLY_WORD_${upper(region.id)} == ${end(before)});`;
  });
  const seals = records.map(
    ({ id }) => `PLY_ASSERT(${id}_ends_with_seal, PLY_${upper(id)}_SEAL_WORD + 1u == PLY_${upper(id)}_WORDS);`,
  );
  const last = regions[regions.length - 1]!.id;
  return [
    ...follows,
    ...seals,
    `PLY_ASSERT(bank_ends_with_${last}, ${end(last)} == PLY_USER_WORDS);`,
    `PLY_ASSERT(one_read_brings_header_and_slots, ${end("slot_b")} <= 32u);`,
    "PLY_ASSERT(commit_word_holds_the_kind, PLY_FRAME_KIND_WORD == 0u && PLY_FRAME_KIND != 0u);",
  ];
}
