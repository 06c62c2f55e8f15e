/** Records of the specification as memory words. */
import { encode, isFault, type RawValues } from "../../protocol/codec/encode.ts";
import { layout } from "../../protocol/index.ts";
import { type CompiledField, fieldIndex, recordOf } from "../../protocol/model/layout.ts";
import { sentence } from "../../protocol/model/reasons.ts";
import { toRaw } from "../../protocol/model/scale.ts";

/** Big-endian bytes of words. */
export function toBytes(words: ArrayLike<number>): Uint8Array {
  const bytes = new Uint8Array(words.length * 2);
  for (let i = 0; i < words.length; i++) {
    bytes[2 * i] = words[i]! >> 8;
    bytes[2 * i + 1] = words[i]! & 0xff;
  }
  return bytes;
}

/** Words of big-endian bytes; an odd byte at the end is not a word. */
function toWords(bytes: Uint8Array): number[] {
  return Array.from({ length: bytes.length >> 1 }, (_, i) => (bytes[2 * i]! << 8) | bytes[2 * i + 1]!);
}

/** Words of a record. Throws an Error when the specification does not allow a value: a wrong scenario or a bug here. */
export function recordWords(id: string, raws: RawValues): number[] {
  const bytes = encode(recordOf(layout, id), raws);
  if (isFault(bytes)) throw new Error(sentence(bytes));
  return toWords(bytes);
}

/** A field of the specification. Throws an Error when there is none: a bug here. */
export function fieldOf(recordId: string, fieldId: string): CompiledField {
  const record = recordOf(layout, recordId);
  return record.fields[fieldIndex(record, fieldId)]!;
}

/** Raw integer of a physical value by the specification's scale. Throws an Error for one the field rejects. */
export function rawOfValue(recordId: string, fieldId: string, value: number): number {
  const raw = toRaw(fieldOf(recordId, fieldId), value);
  if (raw === null) throw new Error(`${recordId}.${fieldId} cannot hold ${value}`);
  return raw;
}

/** Raw integer of a name, a flag's mask or a sentinel of a field. Throws an Error for a word the field does not know. */
export function rawOfWord(recordId: string, fieldId: string, word: string): number {
  const { names = [], flags = [], sentinels = [] } = fieldOf(recordId, fieldId);
  const flag = flags.find(({ id }) => id === word);
  if (flag) return 2 ** flag.bit;
  const named = [...names, ...sentinels].find(({ id }) => id === word);
  if (!named) throw new Error(`${recordId}.${fieldId} knows no ${word}`);
  return named.raw;
}

/** Raw value of a flags field with these flags set. */
export function flagBits(recordId: string, fieldId: string, set: readonly string[]): number {
  return set.reduce((bits, flag) => bits | rawOfWord(recordId, fieldId, flag), 0);
}

/** First word and length of a region. */
export function regionOf(bank: number, id: string): { readonly word: number; readonly words: number } {
  const region = layout.banks.find(({ number }) => number === bank)?.regions.find((candidate) => candidate.id === id);
  if (!region) throw new Error(`bank ${bank} has no region ${id}`);
  return region;
}
