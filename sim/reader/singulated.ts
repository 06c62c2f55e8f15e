/** What the kit does with a tag that it has singulated: password, reads, writes and locks, each with its tries. */
import { type Command, cover } from "../air/command.ts";
import { decodeHandle, decodeOutcome, ERROR } from "../air/reply.ts";
import { BLOCK_WRITE_WORDS } from "../tag/chip-access.ts";
import type { Field, Process, Received } from "./field.ts";

/** One access as the host's request has it. */
export type Access =
  | { readonly kind: "read"; readonly bank: number; readonly word: number; readonly count: number }
  | {
      readonly kind: "write" | "block_write";
      readonly bank: number;
      readonly word: number;
      readonly words: readonly number[];
    }
  | { readonly kind: "lock"; readonly mask: number; readonly action: number }
  | { readonly kind: "kill"; readonly password: number };

/** Result of an access, by the names of the link's list. */
export type AccessResult =
  | { readonly result: "done"; readonly words: readonly number[] }
  | { readonly result: AccessFailure; readonly words: readonly [] };

export type AccessFailure =
  | "tag_lost"
  | "tag_memory_overrun"
  | "tag_memory_locked"
  | "tag_power_insufficient"
  | "tag_error"
  | "password_wrong";

/** A command is said this often before the kit gives up. */
const TRIES = 3;

const FAILURE_OF: { readonly [code: number]: AccessFailure } = {
  [ERROR.memory_overrun]: "tag_memory_overrun",
  [ERROR.memory_locked]: "tag_memory_locked",
  [ERROR.insufficient_power]: "tag_power_insufficient",
};

export class Singulated {
  readonly #say: (command: Command) => Process<Received>;
  readonly #rn: number;
  #handle: number | null = null;

  /** `rn`: the RN16 that the tag was acknowledged with. `say`: says a command as soon as the air is free. */
  constructor(say: (command: Command) => ReturnType<Field["say"]>, rn: number) {
    this.#say = say;
    this.#rn = rn;
  }

  /** Asks for the handle that every access needs; false when the tag does not give one. */
  *open(): Process<boolean> {
    this.#handle = yield* this.#number(this.#rn);
    return this.#handle !== null;
  }

  /** Gives the access password. "refused": the tag took the first half and then fell silent. */
  *secure(password: number): Process<"secured" | "refused" | "lost"> {
    for (const [i, half] of halvesOf(password).entries()) {
      const rn = yield* this.#number(this.#handle!);
      if (rn === null) return "lost";
      const { bits } = yield* this.#say({ kind: "access", covered: cover(half, rn), handle: this.#handle! });
      if (decodeHandle(bits) !== this.#handle) return i === 0 ? "lost" : "refused";
    }
    return "secured";
  }

  *access(access: Access): Process<AccessResult> {
    const handle = this.#handle!;
    switch (access.kind) {
      case "read":
        return yield* this.#tried(access.count, { ...access, handle });
      case "lock":
        return yield* this.#tried(0, { ...access, handle });
      case "kill":
        return yield* this.#kill(access.password);
      case "write": {
        const { bank, word } = access;
        return yield* this.#eachDone(access.words, 1, ([value], at) =>
          this.#tried(0, (rn) => ({ kind: "write", bank, word: word + at, covered: cover(value!, rn), handle })),
        );
      }
      case "block_write":
        return yield* this.#eachDone(access.words, BLOCK_WRITE_WORDS, (words, at) =>
          this.#tried(0, { kind: "block_write", bank: access.bank, word: access.word + at, words, handle }),
        );
    }
  }

  /** A tag that says nothing to the second half is lost: it took another password, or it is dead and was not heard. */
  *#kill(password: number): Process<AccessResult> {
    const handle = this.#handle!;
    const lost = { result: "tag_lost", words: [] } as const;
    for (const [i, half] of halvesOf(password).entries()) {
      const rn = yield* this.#number(handle);
      if (rn === null) return lost;
      const { bits } = yield* this.#say({ kind: "kill", covered: cover(half, rn), handle });
      if (i === 0 && decodeHandle(bits) === handle) continue;
      const outcome = i === 0 ? null : decodeOutcome(bits, 0);
      return outcome?.handle === handle ? resultOf(outcome) : lost;
    }
    return lost;
  }

  /** Some words at a time, until one of the commands fails. */
  *#eachDone(
    words: readonly number[],
    some: number,
    write: (words: readonly number[], at: number) => Process<AccessResult>,
  ): Process<AccessResult> {
    for (let at = 0; at < words.length; at += some) {
      const result = yield* write(words.slice(at, at + some), at);
      if (result.result !== "done") return result;
    }
    return { result: "done", words: [] };
  }

  /**
   * Says a command until the tag answers it; one that is a function is made with an RN16 of its own for every try. A tag that
   * answers no command but the one for an RN16 is there and will not.
   */
  *#tried(count: number, what: Command | ((rn: number) => Command)): Process<AccessResult> {
    for (let i = 0; i < TRIES; i++) {
      const rn = typeof what === "function" ? yield* this.#number(this.#handle!) : 0;
      if (rn === null) break;
      const { bits } = yield* this.#say(typeof what === "function" ? what(rn) : what);
      const outcome = decodeOutcome(bits, count);
      if (!outcome || outcome.handle !== this.#handle) continue;
      return resultOf(outcome);
    }
    const there = yield* this.#number(this.#handle!);
    return { result: there === null ? "tag_lost" : "tag_error", words: [] };
  }

  /** A handle for the RN16 of the slot, or an RN16 for the handle. */
  *#number(rn: number): Process<number | null> {
    for (let i = 0; i < TRIES; i++) {
      const { bits } = yield* this.#say({ kind: "req_rn", rn });
      const number = decodeHandle(bits);
      if (number !== null) return number;
    }
    return null;
  }
}

/** Upper half first. */
function halvesOf(password: number): readonly [number, number] {
  return [Math.floor(password / 65_536), password % 65_536];
}

function resultOf(outcome: NonNullable<ReturnType<typeof decodeOutcome>>): AccessResult {
  if (outcome.kind === "error") return { result: FAILURE_OF[outcome.code] ?? "tag_error", words: [] };
  return { result: "done", words: outcome.kind === "words" ? outcome.words : [] };
}
