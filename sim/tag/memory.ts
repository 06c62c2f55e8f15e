/** The four banks of a tag as words, with what a reader may do to them. */

import { layout } from "../../protocol/index.ts";
import type { BankSpec } from "../../protocol/model/vocabulary.ts";
import { areaOf, type Locks, locksInService } from "./locks.ts";

/** What came of an access; names of the link's result list. */
export type Refusal = "tag_memory_overrun" | "tag_memory_locked" | "tag_error";

const EPC_BANK = 1;
const USER_BANK = 3;
const PC_WORD = 1;
const EPC_WORDS = 6;
const XPC_WORD = 33;
/** User-memory and XPC indicators of the PC word. */
const PC_INDICATORS = 0x0600;
/** Words of bank 01 that the tag computes: StoredCRC and XPC_W1. */
const COMPUTED = [0, XPC_WORD];

/** Words of a block of BlockPermalock: the chip's own choice, so this invented chip's. */
export const BLOCK_WORDS = 8;

/** What the tag sends when it is inventoried. */
export interface Identity {
  readonly pc: number;
  readonly xpc: number;
  readonly epc: readonly number[];
}

export class TagMemory {
  readonly #banks: readonly Uint16Array[];
  readonly #present: readonly Uint8Array[];
  readonly locks: Locks;
  /** Blocks of the USER bank that a BlockPermalock has closed for good. */
  readonly permalockedBlocks = new Set<number>();

  constructor() {
    this.#banks = layout.banks.map(({ words }) => new Uint16Array(words));
    this.#present = layout.banks.map(presence);
    this.locks = locksInService(layout.banks);
  }

  /** `count` words from `word` on, or why not. `secured`: the reader gave the access password, or none is set. */
  read(bank: number, word: number, count: number, secured: boolean): number[] | Refusal {
    if (!this.#exists(bank, word, count)) return "tag_memory_overrun";
    if (bank === 0) {
      for (let i = word; i < word + count; i++) {
        if (!this.locks.allows(areaOf(bank, i), secured)) return "tag_memory_locked";
      }
    }
    return Array.from(this.#banks[bank]!.subarray(word, word + count));
  }

  /** Why a reader may not write these words; null when it may. `secured` as for a read. */
  refusal(bank: number, word: number, words: readonly number[], secured: boolean): Refusal | null {
    if (!this.#exists(bank, word, words.length)) return "tag_memory_overrun";
    for (let i = word; i < word + words.length; i++) {
      const computed = bank === EPC_BANK && COMPUTED.includes(i);
      const permalocked = bank === USER_BANK && this.permalockedBlocks.has(Math.floor(i / BLOCK_WORDS));
      if (computed || permalocked || !this.locks.allows(areaOf(bank, i), secured)) return "tag_memory_locked";
      if (bank === EPC_BANK && i === PC_WORD && words[i - word]! >> 11 > EPC_WORDS) return "tag_memory_overrun";
    }
    return null;
  }

  /** A word that a reader may write reaches its cell. */
  store(bank: number, word: number, value: number): void {
    const isPc = bank === EPC_BANK && word === PC_WORD;
    // The tag computes the indicators, whatever a reader writes there.
    this.poke(bank, word, [isPc ? (value & ~PC_INDICATORS) | (this.peek(bank, word) & PC_INDICATORS) : value]);
  }

  /** Words from `word` to the end of what a Read with a count of 0 brings: of the EPC, of a region, of the bank. */
  wordsToEnd(bank: number, word: number): number {
    const present = this.#present[bank]!;
    const epcEnd = 2 + this.identity().epc.length;
    if (bank === EPC_BANK && word < epcEnd) return epcEnd - word;
    let end = word;
    while (present[end]) end++;
    return end - word;
  }

  /** A word as the chip itself sees it, past every lock. */
  peek(bank: number, word: number): number {
    return this.#banks[bank]![word]!;
  }

  /** Words written by the chip, its maker or its firmware, past every lock. */
  poke(bank: number, word: number, words: readonly number[]): void {
    this.#banks[bank]!.set(words, word);
  }

  get killPassword(): number {
    return this.peek(0, 0) * 65_536 + this.peek(0, 1);
  }

  get accessPassword(): number {
    return this.peek(0, 2) * 65_536 + this.peek(0, 3);
  }

  identity(): Identity {
    const pc = this.peek(EPC_BANK, PC_WORD);
    const epc = Array.from(this.#banks[EPC_BANK]!.subarray(2, 2 + (pc >> 11)));
    return { pc, xpc: this.peek(EPC_BANK, XPC_WORD), epc };
  }

  #exists(bank: number, word: number, count: number): boolean {
    const present = this.#present[bank];
    if (!present) return false;
    for (let i = word; i < word + count; i++) if (!present[i]) return false;
    return true;
  }
}

function presence(bank: BankSpec): Uint8Array {
  const present = new Uint8Array(bank.words);
  for (const { word, words, record } of bank.regions) if (record) present.fill(1, word, word + words);
  return present;
}
