/**
 * Extensible bit vectors of eight-bit blocks (GS1 Tag Data Standard, annex on EBVs): seven bits a block, the most significant
 * block first, and a bit before them that says whether another follows.
 */
import { type BitReader, bitsOf } from "./bits.ts";

/** Longest pointer taken: 28 bits, more than any bank has. */
const MAX_BLOCKS = 4;

/** The shortest EBV of an unsigned integer below 2^28. Throws RangeError for any other number. */
export function encodeEbv(value: number): number[] {
  if (!Number.isInteger(value) || value < 0 || value >= 2 ** (7 * MAX_BLOCKS)) throw new RangeError(`EBV of ${value}`);
  let blocks = 1;
  while (value >= 2 ** (7 * blocks)) blocks++;
  return Array.from({ length: blocks }, (_, i) => {
    const last = blocks - 1 - i;
    return [last > 0 ? 1 : 0, ...bitsOf(Math.floor(value / 2 ** (7 * last)), 7)];
  }).flat();
}

/** Takes an EBV off the reader, also one that is longer than it need be; null when it never ends or has too many blocks. */
export function readEbv(reader: BitReader): number | null {
  let value = 0;
  for (let block = 0; block < MAX_BLOCKS; block++) {
    const more = reader.number(1);
    value = value * 128 + reader.number(7);
    if (reader.short) return null;
    if (!more) return value;
  }
  return null;
}
