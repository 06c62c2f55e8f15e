/** What a singulated tag does: commands that carry its handle, and the cover numbers and half passwords between them. */
import { type Command, cover } from "../air/command.ts";
import { ERROR, encodeReply } from "../air/reply.ts";
import { type LinkProfile, replyPreambleUs, replySymbolUs, turnaroundUs } from "../air/timing.ts";
import { torn } from "../bridge/cells.ts";
import type { Answer, Step } from "./answer.ts";
import { BLOCK_WORDS, type Refusal, type TagMemory } from "./memory.ts";

export type AccessCommand = Extract<Command, { readonly handle: number }>;

/** Reserves the memory for so long, as soon as it is free, and returns when that begins. */
export type Claim = (nowUs: number, forUs: number) => number;

/** Writing a word takes this long: order of magnitude, common practice, no source. */
export const CELL_WRITE_US = 1000;
/** A BlockWrite of more words would take longer than the 20 ms a tag has. */
export const BLOCK_WRITE_WORDS = 16;
const USER = 3;

const ERROR_OF: { readonly [refusal in Refusal]: number } = {
  tag_memory_overrun: ERROR.memory_overrun,
  tag_memory_locked: ERROR.memory_locked,
  tag_error: ERROR.other,
};

/** When a command ended, by what profile, and whether power is enough to write. */
interface When {
  readonly endUs: number;
  readonly profile: LinkProfile;
  readonly canWrite: boolean;
}

interface Cycle {
  readonly bank: number;
  readonly word: number;
  readonly value: number;
  readonly startUs: number;
}

export class ChipAccess {
  readonly #memory: TagMemory;
  readonly #claim: Claim;
  /** RN16 for the next word or half password; null when none was given for it. */
  #rn: number | null = null;
  #half: { readonly kind: "access" | "kill"; readonly upper: number } | null = null;
  /** Words being written; empty when none is, or when power was lost over it. */
  #cycles: Cycle[] = [];
  #lost = false;

  constructor(memory: TagMemory, claim: Claim) {
    this.#memory = memory;
    this.#claim = claim;
  }

  /** Forgets what belonged to an earlier singulation. */
  begin(): void {
    this.#rn = null;
    this.#half = null;
  }

  /** Takes an RN16 for the next covered word and returns it. */
  cover(rn: number): number {
    this.#rn = rn;
    return rn;
  }

  /** The field failed: a word that is being written is left torn, and those after it as they were. */
  powerLost(nowUs: number): void {
    this.#lost = true;
    this.begin();
    const cut = this.#cycles[0];
    this.#cycles = [];
    if (!cut || nowUs <= cut.startUs) return;
    const bits = Math.min(16, Math.floor((16 * (nowUs - cut.startUs)) / CELL_WRITE_US));
    const { bank, word, value } = cut;
    if (bits > 0) this.#memory.store(bank, word, torn(this.#memory.peek(bank, word), value, bits, "msb"));
  }

  /** An answer, null for none, or what became of the tag's state: secured, killed, or a wrong password. */
  carryOut(command: AccessCommand, secured: boolean, when: When): Answer | null | "secured" | "wrong" | "killed" {
    this.#lost = false;
    const rn = this.#rn;
    this.#rn = null;
    if (command.kind === "access" || command.kind === "kill") return this.#password(command, rn, when);
    this.#half = null;
    switch (command.kind) {
      case "read":
        return this.#read(command, secured, when);
      case "write":
        // The word can be uncovered only with the RN16 that was given for it.
        if (rn === null) return null;
        return this.#write(command, command.word, [cover(command.covered, rn)], secured, when);
      case "block_write":
        return this.#write(command, command.word, command.words, secured, when);
      case "block_erase":
        return this.#write(command, command.word, new Array<number>(command.count).fill(0), secured, when);
      case "lock": {
        if (!secured) return null;
        const { mask, action, handle } = command;
        if (!when.canWrite) return this.#error(ERROR.insufficient_power, handle, when);
        const done = this.#memory.locks.apply(mask, action);
        return done ? this.#success(handle, when) : this.#error(ERROR.memory_locked, handle, when);
      }
      case "block_permalock":
        return secured ? this.#permalock(command, when) : null;
    }
  }

  #password(
    { kind, covered, handle }: Extract<AccessCommand, { kind: "access" | "kill" }>,
    rn: number | null,
    when: When,
  ): Answer | null | "secured" | "wrong" | "killed" {
    if (rn === null) return null;
    const half = cover(covered, rn);
    const first = this.#half;
    if (first?.kind !== kind) {
      this.#half = { kind, upper: half };
      return at(when, false, () => encodeReply({ kind: "handle", handle }));
    }
    this.#half = null;
    const wanted = kind === "kill" ? this.#memory.killPassword : this.#memory.accessPassword;
    if (kind === "kill" && wanted === 0) return this.#error(ERROR.other, handle, when);
    if (first.upper * 65_536 + half !== wanted) return "wrong";
    if (kind === "access") return "secured";
    return when.canWrite ? "killed" : this.#error(ERROR.insufficient_power, handle, when);
  }

  /** The words are fetched one by one as they are sent, so that they may be of different moments. */
  #read({ bank, word, count, handle }: Extract<AccessCommand, { kind: "read" }>, secured: boolean, when: When): Answer {
    const length = count === 0 ? this.#memory.wordsToEnd(bank, word) : count;
    const refused = this.#memory.read(bank, word, length, secured);
    if (typeof refused === "string") return this.#error(ERROR_OF[refused], handle, when);
    if (length === 0) return this.#error(ERROR.memory_overrun, handle, when);
    const symbolUs = replySymbolUs(when.profile);
    const dataUs = when.endUs + turnaroundUs(when.profile) + replyPreambleUs(when.profile, false) + symbolUs;
    const words: number[] = [];
    const steps = Array.from({ length }, (_, i) => ({
      atUs: dataUs + 16 * i * symbolUs,
      run: () => void words.push(this.#memory.peek(bank, word + i)),
    }));
    return this.#answer(steps, when, false, () => encodeReply({ kind: "words", words, handle }));
  }

  #write(
    { bank, handle }: { readonly bank: number; readonly handle: number },
    word: number,
    words: readonly number[],
    secured: boolean,
    when: When,
  ): Answer {
    if (words.length === 0 || words.length > BLOCK_WRITE_WORDS) return this.#error(ERROR.not_supported, handle, when);
    const refused = this.#memory.refusal(bank, word, words, secured);
    if (refused) return this.#error(ERROR_OF[refused], handle, when);
    if (!when.canWrite) return this.#error(ERROR.insufficient_power, handle, when);
    const beginUs = this.#claim(when.endUs, words.length * CELL_WRITE_US);
    this.#cycles = words.map((value, i) => ({ bank, word: word + i, value, startUs: beginUs + i * CELL_WRITE_US }));
    const steps = this.#cycles.map((cycle) => ({
      atUs: cycle.startUs + CELL_WRITE_US,
      run: () => {
        if (this.#cycles[0] !== cycle) return;
        this.#memory.store(bank, cycle.word, cycle.value);
        this.#cycles.shift();
      },
    }));
    return this.#answer(steps, when, true, () => encodeReply({ kind: "success", handle }));
  }

  /** One bit a block, the first block at the front; blocks beyond the bank read as 0 and cannot be locked. */
  #permalock({ bank, block, range, mask, handle }: Extract<AccessCommand, { kind: "block_permalock" }>, when: When) {
    const blocks = 16 * range;
    const firstWord = 16 * block * BLOCK_WORDS;
    const there = bank === USER && range > 0 && this.#memory.wordsToEnd(USER, firstWord) > 0;
    if (!there) return this.#error(ERROR.memory_overrun, handle, when);
    const locked = this.#memory.permalockedBlocks;
    const indices = Array.from({ length: blocks }, (_, i) => 16 * block + i);
    if (!mask) {
      const words = Array.from({ length: range }, (_, w) =>
        indices.slice(16 * w, 16 * w + 16).reduce((bits, index) => 2 * bits + (locked.has(index) ? 1 : 0), 0),
      );
      return at(when, false, () => encodeReply({ kind: "words", words, handle }));
    }
    if (!when.canWrite) return this.#error(ERROR.insufficient_power, handle, when);
    const wanted = indices.filter((_, i) => (mask[i >> 4]! >> (15 - (i % 16))) & 1);
    if (wanted.some((index) => this.#memory.wordsToEnd(USER, index * BLOCK_WORDS) === 0)) {
      return this.#error(ERROR.memory_overrun, handle, when);
    }
    for (const index of wanted) locked.add(index);
    return this.#success(handle, when);
  }

  #success(handle: number, when: When): Answer {
    return at(when, true, () => encodeReply({ kind: "success", handle }));
  }

  #error(code: number, handle: number, when: When): Answer {
    return at(when, false, () => encodeReply({ kind: "error", code, handle }));
  }

  #answer(steps: readonly Step[], when: When, delayed: boolean, bits: () => ReturnType<Answer["bits"]>): Answer {
    // A write's reply comes when the words are written, a Read's while they are fetched.
    const fromUs = delayed ? steps.at(-1)!.atUs : when.endUs;
    return {
      steps,
      startUs: fromUs + turnaroundUs(when.profile),
      delayed,
      bits: () => (this.#lost ? null : bits()),
    };
  }
}

/** A reply T1 after the command. */
function at({ endUs, profile }: When, delayed: boolean, bits: Answer["bits"]): Answer {
  return { steps: [], startUs: endUs + turnaroundUs(profile), delayed, bits };
}
