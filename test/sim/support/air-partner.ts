/** A reader's half of the air interface for tests of one chip: commands go out as bits, replies are taken apart by place. */
import { type Bits, bitsOfWords } from "../../../sim/air/bits.ts";
import type { Command, Query, Select } from "../../../sim/air/command.ts";
import { encodeCommand } from "../../../sim/air/encode-command.ts";
import type { LinkProfile } from "../../../sim/air/timing.ts";
import { Random } from "../../../sim/random.ts";
import { trainingLeg } from "../../../sim/scenario/training-leg.ts";
import { Chip } from "../../../sim/tag/chip.ts";
import { commissionedMemory } from "../../../sim/tag/factory.ts";
import { Locks } from "../../../sim/tag/locks.ts";
import type { TagMemory } from "../../../sim/tag/memory.ts";

/** 640 kHz and FM0: a bit of a reply takes 1.5625 µs, T2 is at most 31.25 µs. */
export const FAST: LinkProfile = { tariUs: 6.25, rtcalUs: 15.625, trcalUs: 100 / 3, dr: 1, m: 0, trext: false };

export const QUERY: Query = { kind: "query", dr: 1, m: 0, trext: false, sel: 0, session: 0, target: "A", q: 0 };
export const SELECT_ALL: Select = {
  kind: "select",
  target: 0,
  action: 0,
  bank: 1,
  pointer: 0,
  mask: [],
  truncate: false,
};

/** The unsigned integer of some bits of a reply. */
export function numberAt(bits: Bits, at: number, width: number): number {
  return Number.parseInt(bits.slice(at, at + width).join(""), 2);
}

/** Code of an error reply; null for any other. */
export function errorOf(bits: Bits | null): number | null {
  return bits?.[0] === 1 && bits.length === 41 ? numberAt(bits, 1, 8) : null;
}

/** Whether it is the reply of a command that changed memory, with this handle. */
export function isDone(bits: Bits | null, handle: number): boolean {
  return bits?.length === 33 && bits[0] === 0 && numberAt(bits, 1, 16) === handle;
}

export class AirPartner {
  readonly memory: TagMemory = commissionedMemory(trainingLeg.tags[0]!);
  readonly chip: Chip;
  nowUs = 1_000_000;
  /** Whether the tag has power enough to write. */
  canWrite = true;

  /** A tag in service, powered; its random numbers follow from the seed. */
  constructor(seed = 1) {
    this.chip = new Chip(this.memory, new Random(seed, "air partner"), (nowUs) => nowUs);
    this.chip.powerUp(this.nowUs);
  }

  /** The ten lock bits and both passwords as wanted, past every rule. */
  configure({ locks, access, kill }: { locks?: number; access?: number; kill?: number }): void {
    if (locks !== undefined) Object.assign(this.memory, { locks: new Locks(locks) });
    if (kill !== undefined) this.memory.poke(0, 0, [kill >>> 16, kill & 0xffff]);
    if (access !== undefined) this.memory.poke(0, 2, [access >>> 16, access & 0xffff]);
  }

  /** Says a command, 10 µs behind what was said before, and returns the bits of the reply. */
  say(command: Command): Bits | null {
    return this.sayBits(encodeCommand(command));
  }

  sayBits(bits: Bits): Bits | null {
    const startUs = this.nowUs + 10;
    const endUs = startUs + 50;
    this.nowUs = endUs;
    const answer = this.chip.hear({ bits, startUs, endUs, profile: FAST, canWrite: this.canWrite });
    if (!answer) return null;
    for (const { atUs, run } of answer.steps) {
      this.nowUs = Math.max(this.nowUs, atUs);
      run();
    }
    const said = answer.bits();
    // Preamble, bits and the dummy bit of FM0 at 640 kHz.
    if (said) this.nowUs = answer.startUs + ((answer.delayed ? 18 : 6) + said.length + 1) * 1.5625;
    return said;
  }

  /** No field for so long. */
  losePower(forUs: number): void {
    this.chip.powerDown(this.nowUs);
    this.nowUs += forUs;
    this.chip.powerUp(this.nowUs);
  }

  /** RN16 of a tag that this Query has speak in the round's first slot; null when it does not. */
  query(query: Partial<Query> = {}): number | null {
    const bits = this.say({ ...QUERY, ...query });
    return bits && numberAt(bits, 0, 16);
  }

  /** Brings the tag to a handle by a round of its own. */
  singulate(): number {
    this.say(SELECT_ALL);
    const rn = this.query()!;
    this.say({ kind: "ack", rn });
    return numberAt(this.say({ kind: "req_rn", rn })!, 0, 16);
  }

  /** RN16 to cover the next word or half password with. */
  coverOf(handle: number): number {
    return numberAt(this.say({ kind: "req_rn", rn: handle })!, 0, 16);
  }

  /** Both halves of a password, the upper first; the replies to each. */
  password(handle: number, kind: "access" | "kill", value: number): readonly [Bits | null, Bits | null] {
    const half = (part: number) => this.say({ kind, covered: part ^ this.coverOf(handle), handle });
    return [half(value >>> 16), half(value & 0xffff)];
  }

  write(handle: number, bank: number, word: number, value: number): Bits | null {
    return this.say({ kind: "write", bank, word, covered: value ^ this.coverOf(handle), handle });
  }

  read(handle: number, bank: number, word: number, count = 1): Bits | null {
    return this.say({ kind: "read", bank, word, count, handle });
  }

  /** The EPC's bits. */
  get epc(): Bits {
    return bitsOfWords(this.memory.identity().epc);
  }
}
