/**
 * Reading of JSON values in place, as the C in native/text.h does: every method takes where a value begins and gives where it
 * ends, or -1 when it is not of the plain kind. The byte behind the last one in memory is 0.
 */

const MOST_DIGITS = 15;
const QUOTE = 0x22;
const TENS = Float64Array.from({ length: MOST_DIGITS + 1 }, (_, power) => Number(`1e${power}`));

/** Value of each hex digit by its character; -1 for every other. */
const DIGITS = Int8Array.from({ length: 256 }, (_, code) => {
  const digit = "0123456789abcdef".indexOf(String.fromCharCode(code).toLowerCase());
  return code < 128 ? digit : -1;
});

export class PlainValues {
  readonly #input: Uint8Array;
  /** The number, or the count of bytes, that was read last. */
  value = 0;

  constructor(input: Uint8Array) {
    this.#input = input;
  }

  /** Hex digits up to the first other character, as bytes. */
  hex(from: number, to: Uint8Array, at: number, most: number): number {
    const input = this.#input;
    const end = at + most;
    let p = from;
    let byte = at;
    for (;;) {
      const high = DIGITS[input[p]!]!;
      if (high < 0) break;
      const low = DIGITS[input[p + 1]!]!;
      if (low < 0 || byte === end) return -1;
      to[byte++] = (high << 4) | low;
      p += 2;
    }
    this.value = byte - at;
    return p;
  }

  /** A whole number without sign or exponent, exact in a double. */
  whole(from: number): number {
    const input = this.#input;
    let p = from;
    let sum = input[p]! - 48;
    if (sum < 0 || sum > 9) return -1;
    p++;
    if (sum !== 0) {
      for (;;) {
        const digit = input[p]! - 48;
        if (digit < 0 || digit > 9) break;
        sum = sum * 10 + digit;
        p++;
      }
    }
    this.value = sum;
    return p - from <= MOST_DIGITS ? p : -1;
  }

  /** A number without exponent: its digits and the power of ten are exact, so that one division rounds it right. */
  decimal(from: number): number {
    const input = this.#input;
    const minus = input[from] === 0x2d;
    const start = minus ? from + 1 : from;
    let p = start;
    let sum = input[p]! - 48;
    if (sum < 0 || sum > 9) return -1;
    p++;
    if (sum !== 0) {
      for (;;) {
        const digit = input[p]! - 48;
        if (digit < 0 || digit > 9) break;
        sum = sum * 10 + digit;
        p++;
      }
    }
    let digits = p - start;
    if (input[p] === 0x2e) {
      const point = p++;
      for (;;) {
        const digit = input[p]! - 48;
        if (digit < 0 || digit > 9) break;
        sum = sum * 10 + digit;
        p++;
      }
      const behind = p - point - 1;
      digits += behind;
      if (behind === 0) return -1;
      sum /= TENS[behind]!;
    }
    if (digits > MOST_DIGITS) return -1;
    this.value = minus ? -sum : sum;
    return p;
  }

  /** `null` as not a number, else a number. */
  decimalOrNull(from: number): number {
    if (this.#input[from] !== 0x6e) return this.decimal(from);
    this.value = Number.NaN;
    return this.#word(from, "null");
  }

  /** A value that does not matter: a text of plain characters, a number without exponent, true, false or null. */
  any(from: number): number {
    const input = this.#input;
    const first = input[from]!;
    if (first === 0x74) return this.#word(from, "true");
    if (first === 0x66) return this.#word(from, "false");
    if (first !== QUOTE) return this.decimalOrNull(from);
    let p = from + 1;
    for (; input[p] !== QUOTE; p++) {
      const code = input[p]!;
      if (code < 0x20 || code > 0x7e || code === 0x5c) return -1;
    }
    return p + 1;
  }

  #word(from: number, word: string): number {
    for (let i = 0; i < word.length; i++) if (this.#input[from + i] !== word.charCodeAt(i)) return -1;
    return from + word.length;
  }
}
