/**
 * Every lock state of every area, asked for over the air with and without the password. What each pair of bits means, and
 * where the pairs stand in the Lock payload: GS1 EPC Gen2 version 2, from memory.
 */
import { describe, expect, it } from "vitest";
import { AirPartner, errorOf, isDone, numberAt } from "../support/air-partner.ts";

const PASSWORD = 0x1234_5678;
const LOCKED = 4;

/** Areas with the place of their pair in the action half and words of theirs. */
const areas = [
  { area: "kill", shift: 8, words: [[0, 0], [0, 1]] },
  { area: "access", shift: 6, words: [[0, 2], [0, 3]] },
  { area: "epc", shift: 4, words: [[1, 2], [1, 7]] },
  { area: "tid", shift: 2, words: [[2, 0], [2, 5]] },
  { area: "user", shift: 0, words: [[3, 0], [3, 103]] },
] as const; // biome-ignore format: a table
const pairs = [
  { pair: 0b00, open: true, secured: true },
  { pair: 0b01, open: true, secured: true },
  { pair: 0b10, open: false, secured: true },
  { pair: 0b11, open: false, secured: false },
] as const;

const cases = areas.flatMap((area) =>
  pairs.flatMap((pair) =>
    ([false, true] as const).map((secured) => ({
      ...area,
      ...pair,
      secured,
      allowed: secured ? pair.secured : pair.open,
    })),
  ),
);

/** A tag in this lock state, with or without the password given. */
function met(locks: number, secured: boolean): { partner: AirPartner; handle: number } {
  const partner = new AirPartner();
  partner.configure({ locks, access: PASSWORD, kill: 0x0bad_cafe });
  const handle = partner.singulate();
  if (secured) expect(partner.password(handle, "access", PASSWORD)[1]).not.toBeNull();
  return { partner, handle };
}

/** This pair for the area, and for all others what would give another outcome. */
function stateOf(pair: number, shift: number, allowed: boolean): number {
  return ((allowed ? 0b11_11_11_11_11 : 0) & ~(0b11 << shift)) | (pair << shift);
}

describe("a word of an area", () => {
  it.each(cases)("$area $pair, secured $secured: written $allowed", ({ shift, pair, secured, allowed, words }) => {
    for (const [bank, word] of words) {
      const { partner, handle } = met(stateOf(pair, shift, allowed), secured);
      const before = partner.memory.peek(bank, word);
      const reply = partner.write(handle, bank, word, before ^ 0x0101);
      if (allowed) expect(isDone(reply, handle)).toBe(true);
      else expect(errorOf(reply)).toBe(LOCKED);
      expect(partner.memory.peek(bank, word)).toBe(allowed ? before ^ 0x0101 : before);
    }
  });

  it.each(cases)(
    "$area $pair, secured $secured: read as the area's kind is",
    ({ area, shift, pair, secured, allowed, words }) => {
      const isPassword = area === "kill" || area === "access";
      for (const [bank, word] of words) {
        const { partner, handle } = met(stateOf(pair, shift, allowed), secured);
        const reply = partner.read(handle, bank, word);
        // Locks keep passwords from being read, and nothing else.
        if (isPassword && !allowed) expect(errorOf(reply)).toBe(LOCKED);
        else expect([reply![0], numberAt(reply!, 1, 16)]).toEqual([0, partner.memory.peek(bank, word)]);
      }
    },
  );
});

describe("a Lock command", () => {
  const transitions = areas.flatMap(({ area, shift }) =>
    pairs.flatMap(({ pair: from }) => pairs.map(({ pair: to }) => ({ area, shift, from, to }))),
  );

  it.each(transitions)("$area from $from to $to", ({ shift, from, to }) => {
    const rest = 0b10_10_10_10_10 & ~(0b11 << shift);
    const { partner, handle } = met(rest | (from << shift), true);
    // A permanent pair takes no other value.
    const refused = (from & 1) === 1 && to !== from;
    const reply = partner.say({ kind: "lock", mask: 0b11 << shift, action: to << shift, handle });
    if (refused) expect(errorOf(reply)).toBe(LOCKED);
    else expect(isDone(reply, handle)).toBe(true);
    expect(partner.memory.locks.state).toBe(rest | ((refused ? from : to) << shift));
  });

  it("is taken only by a secured tag: one that has a password and was not given it says nothing", () => {
    const { partner, handle } = met(0, false);
    expect(partner.say({ kind: "lock", mask: 0b10, action: 0b10, handle })).toBeNull();
    expect(partner.memory.locks.state).toBe(0);
    expect(partner.chip.state).toBe("open");
  });

  it("without power enough changes nothing and says so with 0Bh", () => {
    const { partner, handle } = met(0, true);
    partner.canWrite = false;
    expect(errorOf(partner.say({ kind: "lock", mask: 0b10, action: 0b10, handle }))).toBe(0x0b);
    expect(partner.memory.locks.state).toBe(0);
  });

  it("with another handle is not served", () => {
    const { partner, handle } = met(0, true);
    expect(partner.say({ kind: "lock", mask: 0b10, action: 0b10, handle: handle ^ 0x0100 })).toBeNull();
    expect(partner.memory.locks.state).toBe(0);
  });
});
