/** Bytes of a hex dump as people paste it. */
import { type HexFault, parseHex } from "../../protocol/index.ts";

export interface DumpFault extends HexFault {
  /** Both counted from 1. */
  readonly line: number;
  readonly character: number;
  /** Index of that character in the text as given; equal to `place`. */
  readonly place: number;
}

/** Address columns and the text column of common dump programs are left out. */
export function parseDump(text: string): Uint8Array | DumpFault {
  const bytes: number[] = [];
  let before = 0;
  for (const [index, line] of text.split("\n").entries()) {
    // Blanks take the place of what is left out, so that a fault is found at the character it was typed at.
    const blank = (found: string) => " ".repeat(found.length);
    const digits = line
      .replace(/^\s*(0x)?[0-9a-fA-F]{4,8}:\s/, blank)
      .replace(/\s\s?\|.*\|\s*$/, blank)
      .replace(/\b0x/g, blank);
    const parsed = parseHex(digits);
    if (!(parsed instanceof Uint8Array)) {
      return { ...parsed, line: index + 1, character: parsed.place + 1, place: before + parsed.place };
    }
    bytes.push(...parsed);
    before += line.length + 1;
  }
  return Uint8Array.from(bytes);
}
