/** Reading and writing of a slice of one container word, the only way plyframe touches bits. */

/** A slice ready for use: byte offset, container bytes, byte order, shift of the lowest bit, width, sign. */
export interface CompiledSlice {
  readonly byte: number;
  readonly bytes: number;
  readonly little: boolean;
  readonly shift: number;
  readonly width: number;
  readonly signed: boolean;
}

const TWO_32 = 4294967296;

function octet(bytes: ArrayLike<number>, at: number, slice: CompiledSlice, significance: number): number {
  return bytes[at + slice.byte + (slice.little ? significance : slice.bytes - 1 - significance)]!;
}

/** Raw value of a slice, `at` the record's first byte. Allocates nothing. */
export function readSlice(bytes: ArrayLike<number>, at: number, slice: CompiledSlice): number {
  if (slice.bytes > 4) return readWide(bytes, at, slice);
  const first = at + slice.byte;
  let container = 0;
  if (slice.little) for (let i = slice.bytes - 1; i >= 0; i--) container = (container << 8) | bytes[first + i]!;
  else for (let i = 0; i < slice.bytes; i++) container = (container << 8) | bytes[first + i]!;
  if (slice.signed) return (container << (32 - slice.shift - slice.width)) >> (32 - slice.width);
  return slice.width === 32 ? container >>> 0 : (container >>> slice.shift) & ((1 << slice.width) - 1);
}

function readWide(bytes: ArrayLike<number>, at: number, slice: CompiledSlice): number {
  let value = 0;
  for (let bit = slice.shift + slice.width - 1; bit >= slice.shift; bit--) {
    value = value * 2 + ((octet(bytes, at, slice, bit >> 3) >> (bit & 7)) & 1);
  }
  const half = 2 ** (slice.width - 1);
  return slice.signed && value >= half ? value - 2 * half : value;
}

/** Writes a raw value into a slice, leaving the container's other bits. */
export function writeSlice(bytes: Uint8Array, at: number, slice: CompiledSlice, raw: number): void {
  const low = raw >>> 0;
  const high = Math.floor(raw / TWO_32);
  for (let i = 0; i < slice.width; i++) {
    const bit = slice.shift + i;
    const index = at + slice.byte + (slice.little ? bit >> 3 : slice.bytes - 1 - (bit >> 3));
    const value = ((i < 32 ? low >>> i : high >>> (i - 32)) & 1) << (bit & 7);
    bytes[index] = (bytes[index]! & ~(1 << (bit & 7))) | value;
  }
}
