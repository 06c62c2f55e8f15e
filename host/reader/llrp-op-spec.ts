/**
 * The number this program gives an operation of LLRP: bank in the two most significant bits, word address in the others. A
 * result carries that number back but not what was asked, so a recording of the reader's bytes alone says what it holds.
 */
import type { BankName } from "./report.ts";

/** In the order of Gen2's MemBank numbers. */
export const BANKS: readonly BankName[] = ["reserved", "epc", "tid", "user"];

/** Highest word address an operation can be numbered by. */
export const LAST_WORD = 0x3fff;

export interface WordPlace {
  readonly bank: BankName;
  readonly word: number;
}

export function opSpecIdOf({ bank, word }: WordPlace): number {
  return BANKS.indexOf(bank) * (LAST_WORD + 1) + word;
}

/** What such a number means; null for small ones, which any other program may have given. */
export function placeOfOpSpec(id: number): WordPlace | null {
  const bank = BANKS[id >> 14]!;
  return bank === "reserved" ? null : { bank, word: id & LAST_WORD };
}
