/**
 * One tag for tests of the host alone: four banks, passwords and lock bits by the rules of Gen2, written here a second time
 * (from memory of the standard): without the access password a tag is open, with it secured.
 */
import { calibration, counters, EMPTY_SLOT, header, wordsOf } from "../host/readings/tag-words.ts";

export type BankName = "reserved" | "epc" | "tid" | "user";
export const BANK_NAMES: readonly BankName[] = ["reserved", "epc", "tid", "user"];

export interface Asked {
  readonly kind: "read" | "write" | "block_write" | "lock";
  /** 0: none was given. */
  readonly password: number;
  readonly bank: BankName;
  readonly word: number;
  readonly count: number;
  readonly words: readonly number[];
  readonly mask: number;
  readonly action: number;
}

export interface Did {
  readonly result: string;
  readonly words: readonly number[];
}

/** Lock bits in the order of the payload, the first the most significant pair. */
const AREAS = ["kill", "access", "epc", "tid", "user"] as const;
type Area = (typeof AREAS)[number];

export class ScriptedTag {
  readonly epc: readonly number[];
  readonly banks: { readonly [bank in BankName]: number[] };
  /** `closed`: takes the password to change (for passwords also to read); `fixed`: for good. */
  readonly locks: { readonly [area in Area]: { closed: boolean; fixed: boolean } };

  constructor(epc: readonly number[], accessPassword = 0, copy1 = calibration(), copy2 = copy1) {
    this.epc = epc;
    const user = [header(), EMPTY_SLOT, EMPTY_SLOT, counters()].flatMap((bytes) => wordsOf(bytes));
    user.push(...new Array<number>(128 - user.length).fill(0));
    user.splice(40, 16, ...wordsOf(copy1));
    user.splice(56, 16, ...wordsOf(copy2));
    this.banks = {
      reserved: [0, 0, Math.floor(accessPassword / 65_536), accessPassword % 65_536],
      epc: [0, epc.length << 11, ...epc],
      tid: [0xe280, 0x1234, 0x0001, 0x0002, 0x0003, 0x0004],
      user,
    };
    const none = () => ({ closed: false, fixed: false });
    this.locks = { kill: none(), access: none(), epc: none(), tid: none(), user: none() };
  }

  get accessPassword(): number {
    return this.banks.reserved[2]! * 65_536 + this.banks.reserved[3]!;
  }

  /** What the tag does about an access it has heard. */
  carryOut(asked: Asked): Did {
    const own = this.accessPassword;
    if (asked.password !== 0 && own !== 0 && asked.password !== own) return { result: "password_wrong", words: [] };
    const secured = own === 0 || asked.password === own;
    if (asked.kind === "lock") return this.#lock(asked, secured);
    const { bank, word } = asked;
    const length = asked.kind === "read" ? asked.count : asked.words.length;
    if (word + length > this.banks[bank].length) return { result: "tag_memory_overrun", words: [] };
    if (asked.kind === "read") {
      if (bank === "reserved" && !this.#allows(asked, secured)) return { result: "tag_memory_locked", words: [] };
      return { result: "done", words: this.banks[bank].slice(word, word + length) };
    }
    if (!this.#allows(asked, secured)) return { result: "tag_memory_locked", words: [] };
    this.banks[bank].splice(word, length, ...asked.words);
    return { result: "done", words: [] };
  }

  #allows({ bank, word }: Asked, secured: boolean): boolean {
    const area = bank === "reserved" ? (word < 2 ? "kill" : "access") : bank;
    const { closed, fixed } = this.locks[area];
    return !closed || (secured && !fixed);
  }

  #lock({ mask, action }: Asked, secured: boolean): Did {
    if (!secured) return { result: "tag_error", words: [] };
    const pairs = AREAS.map((area, i) => ({ lock: this.locks[area], shift: 2 * (AREAS.length - 1 - i) }));
    const changes = pairs.filter(({ shift }) => (mask >> shift) & 3);
    const wants = (shift: number) => (action >> (shift + 1)) & 1;
    if (changes.some(({ lock, shift }) => lock.fixed && (wants(shift) === 1) !== lock.closed)) {
      return { result: "tag_memory_locked", words: [] };
    }
    for (const { lock, shift } of changes) {
      if ((mask >> (shift + 1)) & 1) lock.closed = wants(shift) === 1;
      if ((mask >> shift) & 1) lock.fixed = ((action >> shift) & 1) === 1;
    }
    return { result: "done", words: [] };
  }
}
