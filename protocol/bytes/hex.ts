/** Where a hex text goes wrong: `place` is the index of the offending character in the text as given. */
export interface HexFault {
  readonly code: "hex-odd-length" | "hex-bad-digit";
  readonly place: number;
  readonly actual: string;
}

const DIGITS = "0123456789abcdef";

function digit(code: number): number {
  if (code >= 48 && code <= 57) return code - 48;
  const lower = code | 32;
  return lower >= 97 && lower <= 102 ? lower - 87 : -1;
}

function isSpace(code: number): boolean {
  return code === 32 || (code >= 9 && code <= 13) || code === 58 || code === 45 || code === 44;
}

/**
 * Bytes of a hex text. Upper and lower case; white space, colons, hyphens and commas between digits are skipped.
 * An odd number of digits or any other character is a fault, never a silent stop.
 */
export function parseHex(text: string): Uint8Array | HexFault {
  const bytes = new Uint8Array(text.length >> 1);
  let digits = 0;
  let last = 0;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (isSpace(code)) continue;
    const value = digit(code);
    if (value < 0) return { code: "hex-bad-digit", place: i, actual: text[i]! };
    if (digits & 1) bytes[digits >> 1]! |= value;
    else bytes[digits >> 1] = value << 4;
    digits++;
    last = i;
  }
  if (digits & 1) return { code: "hex-odd-length", place: last, actual: `${digits} digits` };
  return bytes.subarray(0, digits >> 1);
}

/** Lower-case hex of `bytes`, without separators. */
export function formatHex(bytes: ArrayLike<number>, from = 0, to = bytes.length): string {
  let text = "";
  for (let i = from; i < to; i++) text += DIGITS[bytes[i]! >> 4]! + DIGITS[bytes[i]! & 15]!;
  return text;
}

/** Big-endian 16-bit words of `bytes` as four-digit groups, the way memory is printed. */
export function formatWords(bytes: ArrayLike<number>, from = 0, to = bytes.length): string {
  const groups: string[] = [];
  for (let i = from; i < to; i += 2) groups.push(formatHex(bytes, i, Math.min(i + 2, to)));
  return groups.join(" ");
}
