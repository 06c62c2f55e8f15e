/** Byte mutations, each a pure function of the bytes and a stream of random numbers. */
import type { Random } from "../../sim/random.ts";

/** Longest input that is made; longer than the longest frame of the link and any known block of a capture it mutates. */
const MOST_BYTES = 6000;

const EDGES = [0x00, 0x01, 0x7f, 0x80, 0xfe, 0xff, 0x0a, 0x0d, 0x22, 0x2c, 0x3b, 0x5c, 0x7b, 0x7d];
const WORDS = [
  "-1",
  "0",
  "1e999",
  "281474976710656",
  "null",
  "NaN",
  '""',
  "[]",
  "{}",
  "\ud800",
  "\u0000",
  "\ufeff",
  "__proto__",
];

/** One to eight mutations of `seed`; `other` lends bytes. */
export function mutated(seed: Uint8Array, other: Uint8Array, random: Random): Uint8Array {
  let bytes = [...seed];
  const count = 1 + below(random, 8);
  for (let i = 0; i < count; i++) bytes = one(bytes, other, random).slice(0, MOST_BYTES);
  return Uint8Array.from(bytes);
}

/** The bytes in one to five pieces. */
export function pieces(bytes: Uint8Array, random: Random): Uint8Array[] {
  const ends = Array.from({ length: below(random, 5) }, () => below(random, bytes.length + 1)).sort((a, b) => a - b);
  return [...ends, bytes.length].map((end, i) => bytes.slice(ends[i - 1] ?? 0, end));
}

function one(bytes: number[], other: Uint8Array, random: Random): number[] {
  const at = below(random, bytes.length + 1);
  const length = 1 + below(random, 1 << below(random, 9));
  const before = bytes.slice(0, at);
  const after = bytes.slice(at);
  switch (below(random, 9)) {
    case 0:
      return changed(bytes, at, (byte) => byte ^ (1 << below(random, 8)));
    case 1:
      return changed(bytes, at, () => EDGES[below(random, EDGES.length)]!);
    case 2:
      return changed(bytes, at, () => below(random, 256));
    case 3:
      return [...before, ...after.slice(length)];
    case 4:
      return [...before, ...after.slice(0, length), ...after];
    case 5: {
      const from = below(random, other.length + 1);
      return [...before, ...other.slice(from, from + length), ...after];
    }
    case 6:
      return below(random, 4) === 0 ? before : [...after, ...before];
    case 7:
      return [...before, ...Buffer.from(WORDS[below(random, WORDS.length)]!), ...after];
    default:
      return numberReplaced(bytes, at, WORDS[below(random, WORDS.length)]!);
  }
}

function changed(bytes: number[], at: number, to: (byte: number) => number): number[] {
  return bytes.map((byte, i) => (i === at ? to(byte) : byte));
}

/** The next run of digits behind `at` gives way to a word. */
function numberReplaced(bytes: number[], at: number, word: string): number[] {
  const isDigit = (byte: number) => byte >= 48 && byte <= 57;
  const from = bytes.findIndex((byte, i) => i >= at && isDigit(byte));
  if (from < 0) return bytes;
  const to = bytes.findIndex((byte, i) => i >= from && !isDigit(byte));
  return [...bytes.slice(0, from), ...Buffer.from(word), ...(to < 0 ? [] : bytes.slice(to))];
}

/** A whole number from 0 to one below `end`; 0 when `end` is 0. */
export function below(random: Random, end: number): number {
  return Math.floor(random.fraction() * end);
}
