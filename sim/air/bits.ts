/** Strings of bits as they go over the air: the most significant bit of every field first. */
import { airCrc, bitCrc } from "../../protocol/bytes/bit-crc.ts";

/** Each 0 or 1. */
export type Bits = readonly number[];

/** `width` bits of an unsigned integer below 2^32; the bits above are left out. */
export function bitsOf(value: number, width: number): number[] {
  return Array.from({ length: width }, (_, i) => Math.floor(value / 2 ** (width - 1 - i)) % 2);
}

/** The words' bits, 16 each. */
export function bitsOfWords(words: readonly number[]): number[] {
  return words.flatMap((word) => bitsOf(word, 16));
}

/** The bits with Gen2's CRC-16 behind them. */
export function sealed(bits: Bits): number[] {
  return [...bits, ...bitsOf(bitCrc(airCrc, bits), 16)];
}

/** The bits before the CRC-16 at their end, or null when it does not fit. */
export function unsealed(bits: Bits): Bits | null {
  if (bits.length < 16) return null;
  const body = bits.slice(0, -16);
  return numberOfBits(bits.slice(-16)) === bitCrc(airCrc, body) ? body : null;
}

export function numberOfBits(bits: Bits): number {
  return bits.reduce((value, bit) => 2 * value + bit, 0);
}

/** Takes fields off the front of a string of bits. */
export class BitReader {
  readonly #bits: Bits;
  #at = 0;
  /** A field was asked for that the bits are too short for; it read as 0. */
  short = false;

  constructor(bits: Bits) {
    this.#bits = bits;
  }

  get left(): number {
    return this.#bits.length - this.#at;
  }

  /** Whether every bit was taken, and no more. */
  get done(): boolean {
    return !this.short && this.left === 0;
  }

  bits(count: number): Bits {
    if (count > this.left) {
      this.short = true;
      this.#at = this.#bits.length;
      return [];
    }
    this.#at += count;
    return this.#bits.slice(this.#at - count, this.#at);
  }

  /** Unsigned integer of up to 32 bits. */
  number(width: number): number {
    return numberOfBits(this.bits(width));
  }

  words(count: number): number[] {
    return Array.from({ length: count }, () => this.number(16));
  }
}
