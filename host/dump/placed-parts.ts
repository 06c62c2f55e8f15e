/** Which records of the USER bank lie in a run of bytes, by the word it begins at. */
import { type CompiledRecord, layout, recordOf } from "../../protocol/index.ts";

export interface Part {
  /** Null where a record is looked at by itself. */
  readonly region: string | null;
  /** First word in the bank; null like the region. */
  readonly word: number | null;
  readonly record: CompiledRecord;
  /** In the bytes; `end` is the first one behind it that arrived. */
  readonly at: number;
  readonly end: number;
}

export const user = layout.banks.find(({ id }) => id === "user")!;

/** Records that begin in the bytes, in the order of the bank; the last may have arrived in part. */
export function placedParts(length: number, startWord: number): Part[] {
  const parts: Part[] = [];
  for (const { id, word, words, record } of user.regions) {
    const at = (word - startWord) * 2;
    if (at < 0 || at >= length || record === null) continue;
    const end = Math.min(at + words * 2, length);
    parts.push({ region: id, word, record: recordOf(layout, record), at, end });
  }
  return parts;
}

/** The word at which bytes begin, by the kind in their first word; null when they look like no sealed record. */
export function guessedWord(bytes: Uint8Array): number | null {
  for (const { word, record } of user.regions) {
    const kind = recordOf(layout, record!).fields.find(({ role }) => role === "kind")!;
    const octet = bytes[kind.shift >= 8 ? 0 : 1] ?? 0;
    const raw = kind.shift % 8 === 4 ? octet >> 4 : octet & 15;
    const other = kind.shift >= 8 ? true : bytes[0] === 0;
    if (raw === kind.raw && other) return word;
  }
  return null;
}

/** Bytes that lie beyond the end of the bank. */
export function bytesBeyond(length: number, startWord: number): number {
  return Math.max(0, startWord * 2 + length - user.words * 2);
}
