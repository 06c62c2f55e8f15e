/** Where a field lies in tag memory, counted from the start of its bank. */
import { type CompiledField, type Layout, recordOf } from "./layout.ts";

export interface FieldAddress {
  readonly bank: string;
  readonly region: string;
  readonly field: string;
  /** First 16-bit word of the field's container, and how many words the container touches. */
  readonly word: number;
  readonly words: number;
  /** The slice within the container, bit 0 the least significant. */
  readonly bits: readonly [msb: number, lsb: number];
}

/** The address of every field of every region, in the order of the banks. */
export function addressesOf(layout: Layout): FieldAddress[] {
  return layout.banks.flatMap((bank) =>
    bank.regions.flatMap((region) => {
      if (region.record === null) return [];
      return recordOf(layout, region.record).fields.map((field) => ({
        bank: bank.id,
        region: region.id,
        field: field.id,
        ...wordsOf(field, region.word),
        bits: [field.shift + field.width - 1, field.shift] as const,
      }));
    }),
  );
}

/** Words of a field's container when its record starts at word `start`. */
export function wordsOf(field: CompiledField, start = 0): { word: number; words: number } {
  const first = Math.floor(field.byte / 2);
  const last = Math.floor((field.byte + field.bytes - 1) / 2);
  return { word: start + first, words: last - first + 1 };
}
