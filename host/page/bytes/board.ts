/** Words of the USER bank, explained: what the view of the bytes shows, without any element. */
import {
  chooseSlot,
  type ExplainedField,
  type Explanation,
  explain,
  type SlotChoice,
} from "../../../protocol/index.ts";
import { type Part, placedParts } from "../../dump/placed-parts.ts";

export interface ShownWord {
  /** Address in the bank. */
  readonly word: number;
  /** Its first byte among those that arrived. */
  readonly byte: number;
  /** As it arrived: four digits, or two of a word of which only one byte came. */
  readonly hex: string;
  /** The fields that have bits in it, in the order of the record. */
  readonly fields: readonly ExplainedField[];
  /** Whether a field that would be rejected has bits here. */
  readonly faulty: boolean;
}

export interface ShownRecord {
  readonly region: string;
  readonly explanation: Explanation;
  readonly words: readonly ShownWord[];
}

/** Two copies of one record stand side by side. */
export interface Board {
  readonly groups: readonly (readonly ShownRecord[])[];
  /** Null unless both slots arrived. */
  readonly choice: SlotChoice | null;
}

export function boardOf(bytes: Uint8Array, startWord: number): Board {
  const parts = placedParts(bytes.length, startWord);
  const groups: ShownRecord[][] = [];
  for (const part of parts) {
    const shown = shownRecord(bytes, part);
    const last = groups.at(-1);
    if (last?.some(({ explanation }) => explanation.record === part.record)) last.push(shown);
    else groups.push([shown]);
  }
  // The frames first: they are what one looks for.
  groups.sort((one, other) => Number(isFrames(other)) - Number(isFrames(one)));
  const slot = (id: string) => parts.find(({ region }) => region === id);
  const [a, b] = [slot("slot_a"), slot("slot_b")];
  return { groups, choice: a && b ? chooseSlot(a.record, bytes, a.at, b.at) : null };
}

function isFrames(group: readonly ShownRecord[]): boolean {
  return group.some(({ explanation }) => explanation.record.id === "frame");
}

function shownRecord(bytes: Uint8Array, { region, word, record, at, end }: Part): ShownRecord {
  const explanation = explain(record, bytes, at, end);
  // A record that was never written is no word's fault.
  const empty = explanation.fault?.code === "record-empty";
  const words = Array.from({ length: Math.ceil((end - at) / 2) }, (_, i): ShownWord => {
    const [from, to] = [at + 2 * i, Math.min(end, at + 2 * i + 2)];
    const fields = explanation.fields.filter((field) => bitsIn(field, from) !== null);
    const faulty = !empty && fields.some(({ reason }) => reason !== null);
    const hex = [...bytes.subarray(from, to)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    return { word: word! + i, byte: from, hex, fields, faulty };
  });
  return { region: region!, explanation, words };
}

/**
 * Which bits of the word that begins at byte `from` belong to a field, 15 to 0, both included; null: none of them. All
 * containers of the USER bank are big-endian.
 */
export function bitsIn(
  { field, byte }: Pick<ExplainedField, "field" | "byte">,
  from: number,
): { readonly high: number; readonly low: number } | null {
  // Bits of the container, counted from its end, and where the word's lowest bit lies among them.
  const base = (byte + field.bytes - (from + 2)) * 8;
  const low = Math.max(0, field.shift - base);
  const high = Math.min(15, field.shift + field.width - 1 - base);
  return high >= low ? { high, low } : null;
}
