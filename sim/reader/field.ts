/** The air between the kit's antenna and its tags: one command goes out, and what comes back is one reply, several or none. */
import type { Bits } from "../air/bits.ts";
import type { Command } from "../air/command.ts";
import { encodeCommand } from "../air/encode-command.ts";
import {
  answerWindowUs,
  commandGapUs,
  commandUs,
  type LinkProfile,
  replyUs,
  silenceUs,
  turnaroundUs,
  WRITE_LIMIT_US,
} from "../air/timing.ts";
import type { Random } from "../random.ts";
import type { Answer } from "../tag/answer.ts";
import type { Transmission } from "../tag/tag.ts";

/** A tag as the field reaches it. */
export interface Responder {
  /** What the tag does about a command that may reach it. */
  hear(transmission: Transmission): Answer | null;
  /** Strength of its reply at the kit in dBm at kit time `nowUs`. */
  rssiDbm(nowUs: number): number;
}

/** What the kit's receiver made of the time after a command. */
export interface Received {
  readonly kind: "silence" | "collision" | "reply";
  /** Empty unless it is a reply. */
  readonly bits: Bits;
  readonly rssiDbm: number;
  /** When the next command may begin. */
  readonly nextUs: number;
}

/** A process on kit time: yields the time at which it goes on, never an earlier one than before. */
export type Process<Result> = Generator<number, Result, void>;

export interface FieldOptions {
  readonly profile: LinkProfile;
  /** Strength at which half the replies are understood, and the spread of that: common practice, no source. */
  readonly sensitivityDbm: number;
  /** How much stronger than all others together a reply must be to be understood in a collision; null: never. */
  readonly captureDb: number | null;
}

const SPREAD_DB = 1;
const WRITES: readonly Command["kind"][] = ["write", "block_write", "block_erase", "lock", "kill", "block_permalock"];

export class Field {
  readonly profile: LinkProfile;
  readonly #tags: readonly Responder[];
  readonly #random: Random;
  readonly #options: FieldOptions;

  constructor(tags: readonly Responder[], random: Random, options: FieldOptions) {
    this.#tags = tags;
    this.#random = random;
    this.#options = options;
    this.profile = options.profile;
  }

  /** Says a command from kit time `startUs` on. */
  *say(startUs: number, command: Command): Process<Received> {
    const { profile } = this;
    const bits = encodeCommand(command);
    const endUs = startUs + commandUs(profile, bits, command.kind === "query");
    yield endUs;
    const answers: { readonly tag: Responder; readonly answer: Answer }[] = [];
    for (const tag of this.#tags) {
      const answer = tag.hear({ bits, startUs, endUs, profile });
      if (answer) answers.push({ tag, answer });
    }
    const steps = answers.flatMap(({ answer }) => answer.steps);
    for (const step of answers.length > 1 ? steps.sort((a, b) => a.atUs - b.atUs) : steps) {
      yield step.atUs;
      step.run();
    }
    const silence = { kind: "silence", bits: [], rssiDbm: Number.NEGATIVE_INFINITY } as const;
    const waitUs = endUs + this.#patienceUs(command);
    if (answers.length === 0) return { ...silence, nextUs: waitUs };
    let saidUs = endUs;
    const replies: { readonly bits: Bits; readonly rssiDbm: number }[] = [];
    for (const { tag, answer } of answers) {
      const said = answer.bits();
      if (!said) continue;
      const doneUs = answer.startUs + replyUs(profile, said.length, answer.delayed);
      replies.push({ bits: said, rssiDbm: tag.rssiDbm(doneUs) });
      saidUs = Math.max(saidUs, doneUs);
    }
    if (replies.length === 0) return { ...silence, nextUs: Math.max(waitUs, saidUs) };
    yield saidUs;
    const nextUs = saidUs + answerWindowUs(profile)[0];
    const heard = this.#strongest(replies);
    if (!heard) return { kind: "collision", bits: [], rssiDbm: Number.NEGATIVE_INFINITY, nextUs };
    if (!this.#understood(heard.rssiDbm)) return { ...silence, nextUs };
    return { kind: "reply", ...heard, nextUs };
  }

  #strongest(replies: readonly { readonly bits: Bits; readonly rssiDbm: number }[]) {
    const [first, ...others] = [...replies].sort((a, b) => b.rssiDbm - a.rssiDbm);
    if (others.length === 0) return first!;
    const { captureDb } = this.#options;
    const othersMw = others.reduce((sum, { rssiDbm }) => sum + 10 ** (rssiDbm / 10), 0);
    return captureDb !== null && first!.rssiDbm - 10 * Math.log10(othersMw) >= captureDb ? first! : null;
  }

  #understood(rssiDbm: number): boolean {
    const { sensitivityDbm } = this.#options;
    const chance = 1 / (1 + Math.exp((sensitivityDbm - rssiDbm) / SPREAD_DB));
    return this.#random.fraction() < chance;
  }

  /** How long the kit waits for a reply that does not come. */
  #patienceUs({ kind }: Command): number {
    if (kind === "select" || kind === "nak") return commandGapUs(this.profile);
    return (WRITES.includes(kind) ? WRITE_LIMIT_US : 0) + turnaroundUs(this.profile) + silenceUs(this.profile);
  }
}
