/** From a verdict to an error with place, path, expected and actual. */
import { readSlice } from "../bytes/container.ts";
import type { CompiledField, CompiledRecord } from "../model/layout.ts";
import { type Fault, type Reason, reasonByNumber } from "../model/reasons.ts";
import { checksumOf, type Verdict, WHOLE } from "./decode.ts";

/** The error behind a verdict other than 0, for the same `bytes[at, end)` the decoder saw. */
export function faultOf(
  record: CompiledRecord,
  bytes: ArrayLike<number>,
  at: number,
  end: number,
  verdict: Verdict,
): Fault {
  const code = reasonByNumber(verdict >> 8)!;
  const index = verdict & 0xff;
  if (index === WHOLE) return wholeFault(record, code, at, end);
  const field = record.fields[index]!;
  const raw = readSlice(bytes, at, field);
  if (code === "count-mismatch") return countFault(record, field, code, at, end, bytes);
  return {
    code,
    byte: field.byte,
    bit: badBit(field, raw),
    path: flagPath(field, raw),
    expected: expectation(field, bytes, at),
    actual:
      field.type === "checksum" ? hexOf(raw, field.width) : field.type === "flags" ? hexOf(raw, field.width) : `${raw}`,
  };
}

function wholeFault(record: CompiledRecord, code: Reason, at: number, end: number): Fault {
  const found = Math.max(0, end - at);
  if (code === "record-empty") {
    return { code, byte: 0, bit: null, path: record.id, expected: "a sealed record", actual: "zeros only" };
  }
  const byte = Math.min(found, record.bytes);
  return { code, byte, bit: null, path: record.id, expected: `${record.bytes} bytes`, actual: `${found} bytes` };
}

function countFault(
  record: CompiledRecord,
  field: CompiledField,
  code: Reason,
  at: number,
  end: number,
  bytes: ArrayLike<number>,
): Fault {
  let expected = record.bytes;
  for (const tail of record.tails) expected += readSlice(bytes, at, record.fields[tail.count]!) * tail.bytes;
  return {
    code,
    byte: field.byte,
    bit: field.shift,
    path: field.path,
    expected: `${expected} bytes`,
    actual: `${end - at} bytes`,
  };
}

/** Lowest bit at fault, within the container: the lowest bit of the field unless a single bit is to blame. */
function badBit(field: CompiledField, raw: number): number {
  const wrong = field.type === "flags" ? raw & ~field.named! : field.type === "reserved" ? raw : 0;
  for (let bit = 0; bit < field.width; bit++) {
    if (Math.floor(wrong / 2 ** bit) % 2 !== 0) return field.shift + bit;
  }
  return field.shift;
}

function flagPath(field: CompiledField, raw: number): string {
  return field.type === "flags" ? `${field.path}.bit_${badBit(field, raw) - field.shift}` : field.path;
}

function expectation(field: CompiledField, bytes: ArrayLike<number>, at: number): string {
  switch (field.type) {
    case "unsigned":
    case "signed":
      return [`${field.min} to ${field.max}`, ...field.sentinels!.map(({ raw }) => `${raw}`)].join(" or ");
    case "flags":
      return `only bits of ${hexOf(field.named!, field.width)}`;
    case "enumeration":
      return field.names!.map(({ raw }) => `${raw}`).join(", ");
    case "constant":
      return `${field.raw}`;
    case "reserved":
      return "0";
    case "checksum":
      return hexOf(checksumOf(field.algorithm!, bytes, at + field.over![0], at + field.over![1] + 1), field.width);
  }
}

function hexOf(raw: number, width: number): string {
  return `0x${raw.toString(16).padStart(Math.ceil(width / 4), "0")}`;
}
