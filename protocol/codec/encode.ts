/** The one encoder: raw integers into bytes, constants and checksums filled in. */
import { writeSlice } from "../bytes/container.ts";
import type { CompiledRecord } from "../model/layout.ts";
import { type Fault, reasonByNumber } from "../model/reasons.ts";
import { checksumOf } from "./decode.ts";
import { judge } from "./judge.ts";

/** Raw values by field id; constants, reserved bits and checksums are the encoder's own and are ignored when given. */
export type RawValues = { readonly [id: string]: number };

/**
 * Bytes of a record, or the fault of the first value the specification does not allow; a missing value is a fault, never 0.
 * Array elements are named `samples[0]`, `samples[1]`, …; `tails` holds the elements of each tail by id.
 */
export function encode(
  record: CompiledRecord,
  values: RawValues,
  tails: { readonly [id: string]: ArrayLike<number> } = {},
): Uint8Array | Fault {
  const extra = record.tails.reduce((sum, tail) => sum + (tails[tail.id]?.length ?? 0) * tail.bytes, 0);
  const bytes = new Uint8Array(record.bytes + extra);
  for (const field of record.fields) {
    if (field.type === "reserved" || field.type === "checksum") continue;
    const raw = field.type === "constant" ? field.raw! : values[field.id];
    const place = { byte: field.byte, bit: field.shift, path: field.path };
    if (raw === undefined) return { code: "field-missing", ...place, expected: "a raw integer", actual: "nothing" };
    const reason = Number.isSafeInteger(raw) ? judge(field, raw) : -1;
    if (reason < 0) return { code: "field-invalid", ...place, expected: "a raw integer", actual: `${raw}` };
    if (reason)
      return { code: reasonByNumber(reason)!, ...place, expected: "a value the field allows", actual: `${raw}` };
    writeSlice(bytes, 0, field, raw);
  }
  const wrong = writeTails(record, values, tails, bytes);
  if (wrong) return wrong;
  for (const field of record.fields) {
    if (field.type !== "checksum") continue;
    writeSlice(bytes, 0, field, checksumOf(field.algorithm!, bytes, field.over![0], field.over![1] + 1));
  }
  return bytes;
}

function writeTails(
  record: CompiledRecord,
  values: RawValues,
  tails: { readonly [id: string]: ArrayLike<number> },
  bytes: Uint8Array,
): Fault | undefined {
  let byte = record.bytes;
  for (const tail of record.tails) {
    const elements = tails[tail.id] ?? [];
    const count = record.fields[tail.count]!;
    if (values[count.id] !== elements.length) {
      const found = { expected: `${values[count.id]} elements`, actual: `${elements.length}` };
      return { code: "count-mismatch", byte: count.byte, bit: count.shift, path: count.path, ...found };
    }
    for (let i = 0; i < elements.length; i++, byte += tail.bytes) {
      const element = { byte, bytes: tail.bytes, little: tail.little, shift: 0, width: tail.bytes * 8, signed: false };
      const raw = elements[i]!;
      if (!Number.isInteger(raw) || raw < 0 || raw >= 2 ** element.width) {
        return {
          code: "value-out-of-range",
          byte,
          bit: 0,
          path: `${tail.path}[${i}]`,
          expected: `${element.width} bits`,
          actual: `${raw}`,
        };
      }
      writeSlice(bytes, 0, element, raw);
    }
  }
  return undefined;
}

/** Whether an encoder's or decoder's answer is a fault. */
export function isFault(answer: object): answer is Fault {
  return "code" in answer && "path" in answer;
}
