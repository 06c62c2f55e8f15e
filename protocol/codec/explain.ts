/** Explain: the plain decoder with a trace, every field of a record with its bits, raw integer, value and verdict. */
import { formatHex } from "../bytes/hex.ts";
import type { CompiledField, CompiledRecord } from "../model/layout.ts";
import { type Fault, type Reason, reasonByNumber } from "../model/reasons.ts";
import { toValue } from "../model/scale.ts";
import { faultOf } from "./fault.ts";
import { decoderOf } from "./record.ts";

export interface ExplainedField {
  readonly field: CompiledField;
  /** First byte of the field's container in the bytes given, and the container's bytes in hex. */
  readonly byte: number;
  readonly hex: string;
  readonly raw: number;
  /** What the raw integer means, ready to print: `36.52 Cel`, `cold_start | burst_ready`, `not_measured`. */
  readonly meaning: string;
  /** Why this field would be rejected; null when it is allowed. */
  readonly reason: Reason | null;
}

export interface Explanation {
  readonly record: CompiledRecord;
  /** Fields that arrived whole, in the order of the record. */
  readonly fields: readonly ExplainedField[];
  /** Ids of the fields that did not arrive. */
  readonly missing: readonly string[];
  /** The decoder's verdict on the record as a whole; null when it is good. */
  readonly fault: Fault | null;
}

export function explain(record: CompiledRecord, bytes: ArrayLike<number>, at = 0, end = bytes.length): Explanation {
  const fields: ExplainedField[] = [];
  const raws = new Float64Array(record.fields.length);
  const verdict = decoderOf(record)(bytes, at, end, raws, (index, raw, reason) => {
    const field = record.fields[index]!;
    const byte = at + field.byte;
    fields.push({
      field,
      byte,
      hex: formatHex(bytes, byte, byte + field.bytes),
      raw,
      meaning: meaning(field, raw),
      reason: reason ? reasonByNumber(reason)! : null,
    });
  });
  const arrived = new Set(fields.map(({ field }) => field));
  return {
    record,
    fields,
    missing: record.fields.filter((field) => !arrived.has(field)).map(({ id }) => id),
    fault: verdict ? faultOf(record, bytes, at, end, verdict) : null,
  };
}

/** What a raw integer means, in words and units. */
export function meaning(field: CompiledField, raw: number): string {
  switch (field.type) {
    case "unsigned":
    case "signed": {
      const sentinel = field.sentinels!.find((candidate) => candidate.raw === raw);
      if (sentinel) return sentinel.id;
      const value = toValue(field, raw)!;
      return field.unit === "1" ? `${value}` : `${value} ${field.unit}`;
    }
    case "flags": {
      const set = field.flags!.filter(({ bit }) => (raw >> bit) & 1).map(({ id }) => id);
      return set.length > 0 ? set.join(" | ") : "none";
    }
    case "enumeration":
      return field.names!.find((name) => name.raw === raw)?.id ?? "unknown";
    case "constant":
      return raw === field.raw
        ? field.role === "marker"
          ? "as it must be"
          : `${field.role} ${raw}`
        : `not ${field.raw}`;
    case "reserved":
      return raw === 0 ? "zero" : "not zero";
    case "checksum":
      return `0x${raw.toString(16).padStart(field.width / 4, "0")}`;
  }
}
