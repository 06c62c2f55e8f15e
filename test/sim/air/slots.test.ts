/** Slotted rounds against theory: n tags that each draw one of N slots leave n(1 - 1/N)^(n - 1) of them with one tag. */
import { describe, expect, it } from "vitest";
import { encodeCommand } from "../../../sim/air/encode-command.ts";
import { Random } from "../../../sim/random.ts";
import { trainingLeg } from "../../../sim/scenario/training-leg.ts";
import { Chip } from "../../../sim/tag/chip.ts";
import { commissionedMemory } from "../../../sim/tag/factory.ts";

const profile = { tariUs: 6.25, rtcalUs: 15.625, trcalUs: 100 / 3, dr: 1, m: 0, trext: false } as const;
const ROUNDS = 300;

/** Slots of a round by how many tags spoke in them: none, one, several. */
function round(chips: readonly Chip[], q: number): [none: number, one: number, several: number] {
  const counts: [number, number, number] = [0, 0, 0];
  let nowUs = 0;
  const say = (command: Parameters<typeof encodeCommand>[0]) => {
    nowUs += 1e6;
    const heard = { bits: encodeCommand(command), startUs: nowUs, endUs: nowUs + 100, profile, canWrite: true };
    return chips.filter((chip) => chip.hear(heard) !== null).length;
  };
  const query = { kind: "query", dr: 1, m: 0, trext: false, sel: 0, session: 0, target: "A", q } as const;
  for (let slot = 0; slot < 2 ** q; slot++) {
    counts[Math.min(2, say(slot === 0 ? query : { kind: "query_rep", session: 0 }))]!++;
  }
  return counts;
}

function chipsOf(count: number, seed: number): Chip[] {
  return Array.from({ length: count }, (_, i) => {
    const chip = new Chip(commissionedMemory(trainingLeg.tags[0]!), new Random(seed, `chip ${i}`), (nowUs) => nowUs);
    chip.powerUp(0);
    return chip;
  });
}

describe("slotted rounds", () => {
  it.each([
    [4, 2],
    [16, 4],
    [32, 5],
    [40, 4],
    [10, 6],
  ])("%i tags with Q %i: as many slots with one tag as theory has", (tags, q) => {
    const slots = 2 ** q;
    const chips = chipsOf(tags, 100 * tags + q);
    const singles = Array.from({ length: ROUNDS }, () => round(chips, q)[1]);
    const mean = singles.reduce((sum, single) => sum + single, 0) / ROUNDS;
    const variance = singles.reduce((sum, single) => sum + (single - mean) ** 2, 0) / (ROUNDS - 1);
    const expected = tags * (1 - 1 / slots) ** (tags - 1);
    // 99.9 % confidence interval of the mean; the seed is fixed, so the outcome is too.
    const halfWidth = 3.29 * Math.sqrt(variance / ROUNDS);
    expect(Math.abs(mean - expected)).toBeLessThan(halfWidth);
    expect(halfWidth / slots).toBeLessThan(0.06);
  });

  it("use 1/e of their slots when there are many and as many as tags", () => {
    const chips = chipsOf(128, 5);
    const rounds = Array.from({ length: 12 }, () => round(chips, 7)[1] / 128);
    const mean = rounds.reduce((sum, share) => sum + share, 0) / rounds.length;
    const deviation = Math.sqrt(rounds.reduce((sum, share) => sum + (share - mean) ** 2, 0) / (rounds.length - 1));
    expect(Math.abs(mean - 1 / Math.E)).toBeLessThan(3.29 * (deviation / Math.sqrt(rounds.length)) + 0.002);
  });

  it("are drawn anew in every round", () => {
    const chips = chipsOf(2, 9);
    const shares = Array.from({ length: 400 }, () => round(chips, 1)[2]);
    // Two tags in one of two slots: one round in two.
    expect(shares.reduce((sum, several) => sum + several, 0) / 400).toBeCloseTo(0.5, 1);
  });
});
