/** A tag against a model of its own, in any order of commands; the model is a few facts and no state machine of slots. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Command, cover } from "../../../sim/air/command.ts";
import { encodeCommand } from "../../../sim/air/encode-command.ts";
import { Random } from "../../../sim/random.ts";
import { trainingLeg } from "../../../sim/scenario/training-leg.ts";
import { Chip } from "../../../sim/tag/chip.ts";
import { commissionedMemory } from "../../../sim/tag/factory.ts";
import type { TagMemory } from "../../../sim/tag/memory.ts";

const profile = { tariUs: 6.25, rtcalUs: 15.625, trcalUs: 100 / 3, dr: 1, m: 0, trext: false } as const;
const PASSWORD = trainingLeg.tags[0]!.accessPassword;
const KILL = 0x1234_5678;

/** What the model knows: whether the tag is killed, who may do what, and what every word must be. */
interface Model {
  killed: boolean;
  handle: number | null;
  secured: boolean;
  lockState: number;
  readonly words: Map<string, number>;
}

interface Real {
  readonly chip: Chip;
  readonly memory: TagMemory;
  nowUs: number;
}

/** CRC-16 by its definition: polynomial 1021h, preset FFFFh, complemented; a good frame leaves 1D0Fh. */
function residue(bits: readonly number[]): number {
  let register = 0xffff;
  for (const bit of bits) {
    const out = (register >> 15) ^ bit;
    register = ((register << 1) & 0xffff) ^ (out ? 0x1021 : 0);
  }
  return register;
}

function numberAt(bits: readonly number[], at: number, width: number): number {
  return Number.parseInt(bits.slice(at, at + width).join(""), 2);
}

/** Says a command; the bits of the reply, or null. Every reply but an RN16 must carry a right checksum. */
function say(real: Real, command: Command, canWrite = true): readonly number[] | null {
  real.nowUs += 100;
  const heard = { bits: encodeCommand(command), startUs: real.nowUs, endUs: real.nowUs + 50, profile, canWrite };
  const answer = real.chip.hear(heard);
  real.nowUs = heard.endUs;
  if (!answer) return null;
  for (const step of answer.steps) {
    real.nowUs = Math.max(real.nowUs, step.atUs);
    step.run();
  }
  const bits = answer.bits();
  // Close behind the reply, so that T2 is kept.
  real.nowUs = Math.max(real.nowUs, answer.startUs) - 100 + (bits ? (bits.length + 20) * 1.6 : 0);
  if (bits && bits.length !== 16) expect(residue(bits)).toBe(0x1d0f);
  return bits;
}

/** Brings the tag to a handle, if it lives. */
function singulate(real: Real): number | null {
  say(real, { kind: "select", target: 0, action: 0, bank: 1, pointer: 0, mask: [], truncate: false });
  const rn = say(real, { kind: "query", dr: 1, m: 0, trext: false, sel: 0, session: 0, target: "A", q: 0 });
  if (!rn) return null;
  const ack = say(real, { kind: "ack", rn: numberAt(rn, 0, 16) });
  expect(ack).not.toBeNull();
  const handle = say(real, { kind: "req_rn", rn: numberAt(rn, 0, 16) });
  return handle ? numberAt(handle, 0, 16) : null;
}

function password(real: Real, handle: number, kind: "access" | "kill", value: number): (readonly number[] | null)[] {
  return [Math.floor(value / 65_536), value % 65_536].map((half) => {
    const rn = say(real, { kind: "req_rn", rn: handle });
    return rn && say(real, { kind, covered: cover(half, numberAt(rn, 0, 16)), handle });
  });
}

function mayWrite({ secured, lockState }: Model, bank: number): boolean {
  // Pairs of the Lock payload, from memory: kill 9..8, access 7..6, EPC 5..4, TID 3..2, USER 1..0.
  const pair = (lockState >> ({ 1: 4, 2: 2, 3: 0 }[bank] ?? 0)) & 0b11;
  return pair < 0b10 || (pair === 0b10 && secured);
}

function check(model: Model, real: Real): void {
  for (const [key, value] of model.words) {
    const [bank, word] = key.split(":").map(Number) as [number, number];
    expect(real.memory.peek(bank, word), `word ${key}`).toBe(value);
  }
  expect(real.memory.locks.state).toBe(model.lockState);
}

type Step = fc.Command<Model, Real>;
const step = (name: string, run: (model: Model, real: Real) => void): Step => ({
  check: () => true,
  run: (model, real) => {
    run(model, real);
    check(model, real);
  },
  toString: () => name,
});

const places = fc.constantFrom(
  ...([
    [1, 5],
    [2, 3],
    [3, 40],
    [3, 103],
    [3, 5000],
    [2, 500],
  ] as const),
);

const singulation = fc.boolean().map((right) =>
  step(`singulate ${right ? "with" : "without"} password`, (model, real) => {
    model.handle = singulate(real);
    model.secured = false;
    if (model.killed) {
      expect(model.handle).toBeNull();
      return;
    }
    expect(model.handle).not.toBeNull();
    if (!right) return;
    const [, second] = password(real, model.handle!, "access", PASSWORD);
    expect(second).not.toBeNull();
    model.secured = true;
  }),
);

const wrongPassword = fc.integer({ min: 1, max: 0xffff_ffff }).map((value) =>
  step(`password ${value}`, (model, real) => {
    if (model.handle === null || value === PASSWORD) return;
    const [, second] = password(real, model.handle, "access", value);
    expect(second).toBeNull();
    model.handle = null;
    model.secured = false;
  }),
);

const write = fc
  .tuple(places, fc.integer({ min: 0, max: 0xffff }), fc.boolean(), fc.boolean())
  .map(([[bank, word], value, rightHandle, canWrite]) =>
    step(`write ${bank}:${word} ${rightHandle} ${canWrite}`, (model, real) => {
      const given = model.handle ?? 0x5555;
      const handle = rightHandle ? given : given ^ 1;
      const rn = say(real, { kind: "req_rn", rn: given });
      const cover16 = rn ? numberAt(rn, 0, 16) : 0;
      const reply = say(real, { kind: "write", bank, word, covered: cover(value, cover16), handle }, canWrite);
      if (model.killed || model.handle === null || !rightHandle) {
        expect(reply).toBeNull();
        return;
      }
      const exists = model.words.has(`${bank}:${word}`);
      const code = !exists ? 3 : !mayWrite(model, bank) ? 4 : !canWrite ? 0x0b : null;
      if (code === null) {
        expect(reply![0]).toBe(0);
        model.words.set(`${bank}:${word}`, value);
      } else expect([reply![0], numberAt(reply!, 1, 8)]).toEqual([1, code]);
    }),
  );

const read = fc.tuple(places, fc.boolean()).map(([[bank, word], rightHandle]) =>
  step(`read ${bank}:${word} ${rightHandle}`, (model, real) => {
    const given = model.handle ?? 0x5555;
    const reply = say(real, { kind: "read", bank, word, count: 1, handle: rightHandle ? given : given ^ 0x8000 });
    if (model.killed || model.handle === null || !rightHandle) {
      expect(reply).toBeNull();
      return;
    }
    const value = model.words.get(`${bank}:${word}`);
    if (value === undefined) expect([reply![0], numberAt(reply!, 1, 8)]).toEqual([1, 3]);
    else expect([reply![0], numberAt(reply!, 1, 16), numberAt(reply!, 17, 16)]).toEqual([0, value, model.handle]);
  }),
);

const lock = fc.tuple(fc.integer({ min: 0, max: 1023 }), fc.integer({ min: 0, max: 1023 })).map(([mask, action]) =>
  step(`lock ${mask} ${action}`, (model, real) => {
    const reply = say(real, { kind: "lock", mask, action, handle: model.handle ?? 0x5555 });
    if (model.killed || model.handle === null || !model.secured) {
      expect(reply).toBeNull();
      return;
    }
    const next = (model.lockState & ~mask) | (action & mask);
    const permanentChanged = [8, 6, 4, 2, 0].some(
      (shift) => (model.lockState >> shift) & 1 && ((next ^ model.lockState) >> shift) & 0b11,
    );
    expect(reply![0]).toBe(permanentChanged ? 1 : 0);
    if (!permanentChanged) model.lockState = next;
  }),
);

const kill = fc.boolean().map((right) =>
  step(`kill ${right ? "rightly" : "wrongly"}`, (model, real) => {
    if (model.handle === null) return;
    const [, second] = password(real, model.handle, "kill", right ? KILL : KILL ^ 1);
    expect(second !== null && second[0] === 0).toBe(right);
    if (right) model.killed = true;
    model.handle = null;
    model.secured = false;
  }),
);

const power = fc.constant(
  step("lose the field", (model, real) => {
    real.chip.powerDown(real.nowUs);
    expect(singulate(real)).toBeNull();
    real.chip.powerUp(real.nowUs);
    model.handle = null;
    model.secured = false;
  }),
);

const noise = fc.array(fc.integer({ min: 0, max: 1 }), { maxLength: 80 }).map((bits) =>
  step("rubbish", (model, real) => {
    // No code of a command begins like this, so that no random bits are a command by chance.
    const heard = { bits: [1, 1, 1, 1, ...bits], startUs: real.nowUs, endUs: real.nowUs, profile, canWrite: true };
    expect(real.chip.hear(heard)).toBeNull();
    if (model.handle !== null) expect(["open", "secured"]).toContain(real.chip.state);
  }),
);

describe("a tag's air interface", () => {
  it("does what a small model of it says, whatever is said to it in whatever order", () => {
    const steps = [singulation, wrongPassword, write, read, lock, power, noise, singulation, write];
    fc.assert(
      fc.property(fc.commands([...steps, kill], { maxCommands: 40 }), (commands) => {
        const memory = commissionedMemory(trainingLeg.tags[0]!);
        memory.poke(0, 0, [KILL >>> 16, KILL & 0xffff]);
        const chip = new Chip(memory, new Random(3, "model"), (nowUs) => nowUs);
        chip.powerUp(0);
        const places = ["1:5", "2:3", "3:40", "3:103"];
        const words = new Map(
          places.map((key) => [key, memory.peek(...(key.split(":").map(Number) as [number, number]))]),
        );
        // In service: passwords, EPC and USER by password, TID for good.
        const model = { killed: false, handle: null, secured: false, lockState: 0b10_10_10_11_10, words };
        fc.modelRun(() => ({ model, real: { chip, memory, nowUs: 0 } }), commands);
      }),
      { seed: 11, numRuns: 250 },
    );
  });
});
