/** A decoded record by name, for callers that want one record and not a million. */
import { readSlice } from "../bytes/container.ts";
import { type CompiledRecord, fieldIndex } from "../model/layout.ts";
import type { Fault } from "../model/reasons.ts";
import { toValue } from "../model/scale.ts";
import { type Decoder, makeDecoder } from "./decode.ts";
import { faultOf } from "./fault.ts";

export interface DecodedRecord {
  readonly record: CompiledRecord;
  readonly raws: ArrayLike<number>;
  /** Elements of each tail by id. */
  readonly tails: { readonly [id: string]: readonly number[] };
}

const decoders = new WeakMap<CompiledRecord, Decoder>();

/** The decoder of a record, built at its first use. */
export function decoderOf(record: CompiledRecord): Decoder {
  let decoder = decoders.get(record);
  if (!decoder) decoders.set(record, (decoder = makeDecoder(record)));
  return decoder;
}

/** Decodes `bytes[at, end)`, which must be exactly the record, or says why not. */
export function decode(
  record: CompiledRecord,
  bytes: ArrayLike<number>,
  at = 0,
  end = bytes.length,
): DecodedRecord | Fault {
  const raws = new Float64Array(record.fields.length);
  const verdict = decoderOf(record)(bytes, at, end, raws);
  if (verdict) return faultOf(record, bytes, at, end, verdict);
  const tails: Record<string, number[]> = {};
  let byte = at + record.bytes;
  for (const tail of record.tails) {
    const slice = { byte: 0, bytes: tail.bytes, little: tail.little, shift: 0, width: tail.bytes * 8, signed: false };
    tails[tail.id] = Array.from({ length: raws[tail.count]! }, (_, i) =>
      readSlice(bytes, byte + i * tail.bytes, slice),
    );
    byte += raws[tail.count]! * tail.bytes;
  }
  return { record, raws, tails };
}

/** Raw integer of a field; throws for an id the record does not have, which is a programming error. */
export function rawOf(decoded: DecodedRecord, id: string): number {
  return decoded.raws[fieldIndex(decoded.record, id)]!;
}

/** Physical value of a field in its unit; null where a sentinel says there is none. */
export function physicalOf(decoded: DecodedRecord, id: string): number | null {
  const index = fieldIndex(decoded.record, id);
  return toValue(decoded.record.fields[index]!, decoded.raws[index]!);
}

/** Ids of the flags that are set in a flags field; none for any other field. */
export function flagsOf(decoded: DecodedRecord, id: string): string[] {
  const index = fieldIndex(decoded.record, id);
  const { flags = [] } = decoded.record.fields[index]!;
  return flags.filter(({ bit }) => (decoded.raws[index]! >> bit) & 1).map((flag) => flag.id);
}

/** Name of an enumeration field's value; the raw integer as text where it has none. */
export function nameOf(decoded: DecodedRecord, id: string): string {
  const index = fieldIndex(decoded.record, id);
  const { names = [] } = decoded.record.fields[index]!;
  const raw = decoded.raws[index]!;
  return names.find((name) => name.raw === raw)?.id ?? `${raw}`;
}
