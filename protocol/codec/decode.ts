/**
 * The plain decoder: reads a record from a byte array at an offset into numbers the caller owns, and allocates nothing.
 * Given a trace it goes on after a fault and reports every field, which is what explain shows.
 */

import { readSlice } from "../bytes/container.ts";
import { type Checksum, makeChecksum } from "../bytes/crc.ts";
import { makeSlicesReader } from "../bytes/slices.ts";
import { type ChecksumId, checksums } from "../model/checksums.ts";
import type { CompiledField, CompiledRecord } from "../model/layout.ts";
import { reasons } from "../model/reasons.ts";
import { allowedRun, isAlwaysAllowed, judge } from "./judge.ts";

/**
 * 0: the record is good. Else reason number · 256 + index of the field it concerns (255: the record as a whole).
 * `faultOf` turns it into an error with place, expected and actual.
 */
export type Verdict = number;

/** Called for every field that arrived: its index, raw value and the reason it would be rejected for (0: none). */
export type Trace = (index: number, raw: number, reason: number) => void;

/**
 * Decodes `bytes[at, end)` into `raws`, one number a field in the order of `record.fields`.
 * The whole span must be the record: fewer or more bytes are a fault.
 */
export type Decoder = (
  bytes: ArrayLike<number>,
  at: number,
  end: number,
  raws: Float64Array | number[],
  trace?: Trace,
) => Verdict;

/** Field index that stands for the record as a whole. */
export const WHOLE = 255;

const SHORT = reasons["record-too-short"].number;
const TRAILING = reasons["trailing-bytes"].number;
const EMPTY = reasons["record-empty"].number;
const CHECKSUM = reasons["checksum-mismatch"].number;
const COUNT = reasons["count-mismatch"].number;

const functions: Record<ChecksumId, Checksum> = {
  seal: makeChecksum(checksums.seal),
  air: makeChecksum(checksums.air),
  crc32: makeChecksum(checksums.crc32),
};

/** Checksum of `bytes[from, to)` by the id the specification uses. */
export function checksumOf(id: ChecksumId, bytes: ArrayLike<number>, from: number, to: number): number {
  return functions[id](bytes, from, to);
}

/**
 * Builds the decoder of a record. The first fault in this order is the verdict: length, never written, checksum,
 * kind, layout, then every field in its order, then the tails' counts.
 */
export function makeDecoder(record: CompiledRecord): Decoder {
  const { fields, bytes: length, tails } = record;
  const seals = fields.flatMap((field, index) => (field.type === "checksum" ? [sealOf(field, index)] : []));
  const sealed = fields.some(({ role }) => role === "kind");
  const fixed = tails.length === 0;
  const order = judgingOrder(fields).filter((index) => !isAlwaysAllowed(fields[index]!));
  const low = Float64Array.from(order, (index) => allowedRun(fields[index]!)[0]);
  const high = Float64Array.from(order, (index) => allowedRun(fields[index]!)[1]);
  const readAll = makeSlicesReader(fields);

  const plain: Decoder = (bytes, at, end, raws) => {
    const span = end - at;
    if (span < length) return SHORT * 256 + WHOLE;
    if (sealed && isEmpty(bytes, at, at + length)) return EMPTY * 256 + WHOLE;
    if (fixed && span > length) return TRAILING * 256 + WHOLE;
    readAll(bytes, at, raws);
    return contentVerdict(bytes, at, span, raws);
  };

  return (bytes, at, end, raws, trace) => {
    const verdict = plain(bytes, at, end, raws);
    if (trace) traceFields(bytes, at, end - at, raws, trace);
    return verdict;
  };

  function contentVerdict(bytes: ArrayLike<number>, at: number, span: number, raws: ArrayLike<number>): Verdict {
    for (let k = 0; k < seals.length; k++) {
      const { index, checksum, from, to } = seals[k]!;
      if (checksum(bytes, at + from, at + to) !== raws[index]) return CHECKSUM * 256 + index;
    }
    for (let k = 0; k < order.length; k++) {
      const index = order[k]!;
      const raw = raws[index]!;
      if (raw >= low[k]! && raw <= high[k]!) continue;
      const reason = judge(fields[index]!, raw);
      if (reason) return reason * 256 + index;
    }
    if (fixed) return 0;
    let expected = length;
    for (const tail of tails) expected += raws[tail.count]! * tail.bytes;
    return span === expected ? 0 : COUNT * 256 + tails[tails.length - 1]!.count;
  }

  function traceFields(
    bytes: ArrayLike<number>,
    at: number,
    span: number,
    raws: Parameters<Decoder>[3],
    trace: Trace,
  ): void {
    for (let i = 0; i < fields.length; i++) {
      const field = fields[i]!;
      if (field.byte + field.bytes > span) continue;
      const raw = (raws[i] = readSlice(bytes, at, field));
      const seal = span >= length ? seals.find(({ index }) => index === i) : undefined;
      const torn = seal !== undefined && seal.checksum(bytes, at + seal.from, at + seal.to) !== raw;
      trace(i, raw, torn ? CHECKSUM : judge(field, raw));
    }
  }
}

/** Kind and layout are judged first: a record of another kind is called that, not a list of odd values. */
function judgingOrder(fields: readonly CompiledField[]): number[] {
  const rank = (field: CompiledField) => (field.role === "kind" ? 0 : field.role === "layout" ? 1 : 2);
  return fields.map((_, index) => index).sort((a, b) => rank(fields[a]!) - rank(fields[b]!));
}

function isEmpty(bytes: ArrayLike<number>, from: number, to: number): boolean {
  for (let i = from; i < to; i++) if (bytes[i] !== 0) return false;
  return true;
}

function sealOf(field: CompiledField, index: number) {
  const [first, last] = field.over!;
  return { index, checksum: functions[field.algorithm!], from: first, to: last + 1 };
}
