/**
 * The binary-parser decoder: the emitted chains read whole containers, the `crc` package checks the seals.
 * Slower than the plain decoder and independent of it down to the byte; the two must agree on everything.
 */
import crc16ccitt from "crc/calculators/crc16ccitt";
import crc32 from "crc/calculators/crc32";
import { readers, tailReaders } from "../emitted/parsers.ts";
import { type ChecksumId, checksums } from "../model/checksums.ts";
import type { CompiledField, CompiledRecord } from "../model/layout.ts";
import { type Fault, reasons } from "../model/reasons.ts";
import { WHOLE } from "./decode.ts";
import { faultOf } from "./fault.ts";
import { judge } from "./judge.ts";
import type { DecodedRecord } from "./record.ts";

/**
 * Decodes `bytes[at, end)`, which must be exactly the record, or says why not: the first fault in the order length,
 * never written, checksum, kind, layout, fields, counts. `record` must be one of the layout the chains were emitted from;
 * another id throws, which is a programming error.
 */
export function decodeWithParser(
  record: CompiledRecord,
  bytes: Uint8Array,
  at = 0,
  end = bytes.length,
): DecodedRecord | Fault {
  const read = readers[record.id];
  if (!read) throw new Error(`no chain was emitted for record ${record.id}`);
  const span = bytes.subarray(at, end);
  const fault = (reason: keyof typeof reasons, index: number) =>
    faultOf(record, bytes, at, end, reasons[reason].number * 256 + index);

  const sealed = record.fields.some(({ role }) => role === "kind");
  if (span.length < record.bytes) return fault("record-too-short", WHOLE);
  if (sealed && span.subarray(0, record.bytes).every((byte) => byte === 0)) return fault("record-empty", WHOLE);
  if (record.tails.length === 0 && span.length > record.bytes) return fault("trailing-bytes", WHOLE);
  try {
    const raws = read(span);
    const bad = firstFault(record, span, raws);
    if (bad) return faultOf(record, bytes, at, end, bad);
    if (record.tails.length === 0) return { record, raws, tails: {} };
    const expected = record.tails.reduce((sum, tail) => sum + raws[tail.count]! * tail.bytes, record.bytes);
    if (span.length !== expected) return fault("count-mismatch", record.tails.at(-1)!.count);
    return { record, raws, tails: tailReaders[record.id]!(span) };
  } catch {
    // The chains throw on one thing only, reading past the end, and never with the place.
    return fault("record-too-short", WHOLE);
  }
}

/** Verdict (reason · 256 + field) of the first field at fault, seals first, then kind, then layout; 0 when there is none. */
function firstFault(record: CompiledRecord, span: Uint8Array, raws: readonly number[]): number {
  const { fields } = record;
  for (const [index, field] of fields.entries()) {
    if (field.type === "checksum" && sealOf(field, span) !== raws[index]) {
      return reasons["checksum-mismatch"].number * 256 + index;
    }
  }
  const first = ["kind", "layout"].map((role) => fields.findIndex((field) => field.role === role));
  for (const index of [...first.filter((found) => found >= 0), ...fields.keys()]) {
    const reason = judge(fields[index]!, raws[index]!);
    if (reason) return reason * 256 + index;
  }
  return 0;
}

/** The checksum a record should carry, by the `crc` package. */
function sealOf(field: CompiledField, span: Uint8Array): number {
  const [from, to] = field.over!;
  const covered = span.subarray(from, to + 1);
  return functions[field.algorithm!](covered) >>> 0;
}

const ccitt =
  ({ init, xorout }: { readonly init: number; readonly xorout: number }) =>
  (covered: Uint8Array) =>
    crc16ccitt(covered, init) ^ xorout;

const functions: Record<ChecksumId, (covered: Uint8Array) => number> = {
  seal: ccitt(checksums.seal),
  air: ccitt(checksums.air),
  crc32: (covered) => crc32(covered),
};
