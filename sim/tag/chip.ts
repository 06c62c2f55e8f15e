/**
 * The air interface of a tag: the state machine of GS1 EPC Gen2, from memory of version 2. It hears commands as bits and
 * answers with bits; how strong either is, is not its matter.
 */
import type { Bits } from "../air/bits.ts";
import { type Command, type Query, type Select, type Session, SL } from "../air/command.ts";
import { decodeCommand } from "../air/decode-command.ts";
import { encodeReply, type Reply } from "../air/reply.ts";
import { answerWindowUs, type LinkProfile, replyUs, turnaroundUs } from "../air/timing.ts";
import type { Random } from "../random.ts";
import type { Answer } from "./answer.ts";
import { type AccessCommand, ChipAccess, type Claim } from "./chip-access.ts";
import { Flags } from "./flags.ts";
import type { TagMemory } from "./memory.ts";
import { matches } from "./select-match.ts";

export type ChipState = "ready" | "arbitrate" | "reply" | "acknowledged" | "open" | "secured" | "killed";

/** A command as it reached the chip. */
export interface Heard {
  readonly bits: Bits;
  readonly startUs: number;
  readonly endUs: number;
  readonly profile: LinkProfile;
  /** Whether there is power enough to write. */
  readonly canWrite: boolean;
}

/** What an arbitrating tag's slot counter becomes when it was passed over. */
const PASSED_OVER = 0x7fff;
const XPC_INDICATOR = 0x0200;
const EPC = 1;
const EPC_BIT = 32;

export class Chip {
  readonly #memory: TagMemory;
  readonly #random: Random;
  readonly #access: ChipAccess;
  readonly #flags = new Flags();
  #state: ChipState = "ready";
  #powered = false;
  #session: Session = 0;
  #q = 0;
  #slot = 0;
  /** RN16 of the slot, then the handle. */
  #rn = 0;
  /** EPC bits before the part that a truncated reply has; null: replies are whole. */
  #truncateAt: number | null = null;
  #truncating = false;
  #answerByUs = Number.POSITIVE_INFINITY;

  /** `claim` reserves the memory for a write; random numbers are the slots and RN16s. */
  constructor(memory: TagMemory, random: Random, claim: Claim) {
    this.#memory = memory;
    this.#random = random;
    this.#access = new ChipAccess(memory, claim);
  }

  get state(): ChipState {
    return this.#state;
  }

  get flags(): Flags {
    return this.#flags;
  }

  powerUp(nowUs: number): void {
    this.#powered = true;
    this.#flags.powerCame(nowUs);
    this.#leave("ready");
    this.#truncateAt = null;
  }

  powerDown(nowUs: number): void {
    this.#powered = false;
    this.#flags.powerLost(nowUs);
    this.#access.powerLost(nowUs);
  }

  /** What the chip does about a command; null when it does not reply. */
  hear(heard: Heard): Answer | null {
    if (!this.#powered || this.#state === "killed") return null;
    // T2: a tag whose reply is not followed up in time waits for another slot.
    if (heard.startUs > this.#answerByUs) this.#leave("arbitrate");
    const command = decodeCommand(heard.bits);
    if (!command) return null;
    switch (command.kind) {
      case "select":
        return this.#select(command, heard);
      case "query":
        return this.#query(command, heard);
      case "query_rep":
      case "query_adjust":
        return command.session === this.#session ? this.#nextSlot(command, heard) : null;
      case "ack":
        return this.#acknowledge(command.rn, heard);
      case "nak":
        if (this.#state !== "ready") this.#leave("arbitrate");
        return null;
      case "req_rn":
        return this.#newNumber(command.rn, heard);
      default:
        return this.#carryOut(command, heard);
    }
  }

  #select(command: Select, heard: Heard): null {
    const { target, action, bank, pointer, mask, truncate } = command;
    // Truncation is for SL and the EPC; asked for elsewhere, the command is none.
    if (truncate && (target !== SL || bank !== EPC)) return null;
    const [from, to] = [pointer - EPC_BIT, pointer - EPC_BIT + mask.length];
    const inEpc = from >= 0 && to <= 16 * this.#memory.identity().epc.length;
    const matching = (!truncate || inEpc) && matches(this.#memory, command);
    this.#flags.select(target, action, matching, heard.endUs);
    this.#truncateAt = truncate && matching ? to : null;
    this.#leave("ready");
    return null;
  }

  #query(query: Query, heard: Heard): Answer | null {
    if (this.#singulated && query.session === this.#session) this.#flags.invert(this.#session, heard.endUs);
    this.#session = query.session;
    this.#q = query.q;
    this.#truncating = query.sel === 3;
    const wanted = query.sel < 2 || (query.sel === 3) === this.#flags.selected;
    if (!wanted || this.#flags.inventoried(query.session, heard.endUs) !== query.target) {
      this.#leave("ready");
      return null;
    }
    return this.#draw(heard);
  }

  #nextSlot(command: Extract<Command, { kind: "query_rep" | "query_adjust" }>, heard: Heard): Answer | null {
    if (this.#state === "ready") return null;
    if (this.#singulated) {
      this.#flags.invert(this.#session, heard.endUs);
      this.#leave("ready");
      return null;
    }
    if (command.kind === "query_adjust") {
      this.#q = Math.min(15, Math.max(0, this.#q + command.change));
      return this.#draw(heard);
    }
    const passedOver = this.#state === "reply" || this.#slot === 0;
    this.#leave("arbitrate");
    this.#slot = passedOver ? PASSED_OVER : this.#slot - 1;
    return this.#slot === 0 ? this.#speak(heard) : null;
  }

  /** A slot of the round anew. */
  #draw(heard: Heard): Answer | null {
    this.#leave("arbitrate");
    this.#slot = this.#random.integer() % 2 ** this.#q;
    return this.#slot === 0 ? this.#speak(heard) : null;
  }

  #speak(heard: Heard): Answer {
    this.#state = "reply";
    this.#rn = this.#number();
    return this.#reply({ kind: "rn16", rn: this.#rn }, heard);
  }

  #acknowledge(rn: number, heard: Heard): Answer | null {
    if (this.#state === "ready" || this.#state === "arbitrate") return null;
    if (rn !== this.#rn) {
      this.#leave("arbitrate");
      return null;
    }
    if (this.#state === "reply") this.#state = "acknowledged";
    return this.#reply(this.#identity(), heard);
  }

  #identity(): Reply {
    const { pc, xpc, epc } = this.#memory.identity();
    if (this.#truncating && this.#truncateAt !== null) {
      const bits = epc.flatMap((word) => Array.from({ length: 16 }, (_, i) => (word >> (15 - i)) & 1));
      return { kind: "truncated", tail: bits.slice(this.#truncateAt) };
    }
    if (pc & XPC_INDICATOR) return { kind: "identity", pc, xpc, epc };
    // A tag with an XPC word that it does not send puts that word's lower half into the PC word.
    return { kind: "identity", pc: (pc & 0xff00) | (xpc & 0x00ff), xpc: null, epc };
  }

  #newNumber(rn: number, heard: Heard): Answer | null {
    if (rn !== this.#rn) return null;
    if (this.#state === "acknowledged") {
      this.#rn = this.#number();
      this.#state = this.#memory.accessPassword === 0 ? "secured" : "open";
      this.#access.begin();
      return this.#reply({ kind: "handle", handle: this.#rn }, heard);
    }
    if (this.#state !== "open" && this.#state !== "secured") return null;
    return this.#reply({ kind: "handle", handle: this.#access.cover(this.#number()) }, heard);
  }

  #carryOut(command: AccessCommand, heard: Heard): Answer | null {
    const open = this.#state === "open" || this.#state === "secured";
    if (!open || command.handle !== this.#rn) return null;
    const outcome = this.#access.carryOut(command, this.#state === "secured", heard);
    if (outcome === "secured") this.#state = "secured";
    else if (outcome === "wrong") this.#leave("arbitrate");
    else if (outcome === "killed") this.#state = "killed";
    else return outcome;
    if (outcome === "wrong") return null;
    const handle = command.handle;
    return this.#reply(outcome === "killed" ? { kind: "success", handle } : { kind: "handle", handle }, heard);
  }

  /** A reply T1 after the command; in a slot the tag then waits no longer than T2 for what follows. */
  #reply(reply: Reply, { endUs, profile }: Heard): Answer {
    const bits = encodeReply(reply);
    const delayed = reply.kind === "success";
    const startUs = endUs + turnaroundUs(profile);
    const slotted = this.#state === "reply" || this.#state === "acknowledged";
    const saidUs = startUs + replyUs(profile, bits.length, delayed);
    this.#answerByUs = slotted ? saidUs + answerWindowUs(profile)[1] : Number.POSITIVE_INFINITY;
    return { steps: [], startUs, delayed, bits: () => (this.#powered ? bits : null) };
  }

  get #singulated(): boolean {
    return this.#state === "acknowledged" || this.#state === "open" || this.#state === "secured";
  }

  #leave(state: "ready" | "arbitrate"): void {
    if (this.#state === "killed") return;
    // A slot of 0 that never comes up again until the round is adjusted.
    if (state === "arbitrate" && this.#state !== "arbitrate") this.#slot = PASSED_OVER;
    this.#state = state;
    this.#answerByUs = Number.POSITIVE_INFINITY;
    this.#access.begin();
  }

  #number(): number {
    return this.#random.integer() >>> 16;
  }
}
