/** The microcontroller and the air on one memory, by the policy of sim/tag/arbitration.ts. */
import { describe, expect, it } from "vitest";
import { encodeCommand } from "../../../sim/air/encode-command.ts";
import { Random } from "../../../sim/random.ts";
import { trainingLeg } from "../../../sim/scenario/training-leg.ts";
import { type BridgeSide, claimForAir } from "../../../sim/tag/arbitration.ts";
import { Chip } from "../../../sim/tag/chip.ts";
import { commissionedMemory } from "../../../sim/tag/factory.ts";

const profile = { tariUs: 12.5, rtcalUs: 31.25, trcalUs: 200 / 3, dr: 1, m: 1, trext: false } as const;

describe("a write over the air", () => {
  it("waits for the word that the bridge is writing, and then holds the bridge back for as long as it takes", () => {
    const held: number[][] = [];
    const bridge: BridgeSide = {
      wordEndsUs: (nowUs) => nowUs + 400,
      holdBack: (fromUs, untilUs) => void held.push([fromUs, untilUs]),
    };
    expect(claimForAir(bridge, 1000, 16_000)).toBe(1400);
    expect(held).toEqual([[1400, 17_400]]);
  });
});

describe("a Read over the air", () => {
  it("fetches each word in the moment it is sent: words written meanwhile are new, those sent before are old", () => {
    const memory = commissionedMemory(trainingLeg.tags[0]!);
    const chip = new Chip(memory, new Random(1, "race"), (nowUs) => nowUs);
    chip.powerUp(0);
    let nowUs = 1000;
    const say = (command: Parameters<typeof encodeCommand>[0]) => {
      const heard = { bits: encodeCommand(command), startUs: nowUs, endUs: nowUs + 10, profile, canWrite: true };
      nowUs += 20;
      return chip.hear(heard)!;
    };
    const number = (bits: readonly number[] | null) => Number.parseInt(bits!.slice(0, 16).join(""), 2);
    const query = { kind: "query", dr: 1, m: 1, trext: false, sel: 0, session: 0, target: "A", q: 0 } as const;
    const rn = number(say(query).bits());
    say({ kind: "ack", rn });
    const handle = number(say({ kind: "req_rn", rn }).bits());
    memory.poke(3, 40, [1, 1, 1, 1]);
    const answer = say({ kind: "read", bank: 3, word: 40, count: 4, handle });
    // 16 bits of two cycles of 320 kHz each: 100 µs a word.
    const times = answer.steps.map(({ atUs }) => atUs);
    times.slice(1).forEach((atUs, i) => {
      expect(atUs - times[i]!).toBeCloseTo(100, 6);
    });
    answer.steps[0]!.run();
    answer.steps[1]!.run();
    memory.poke(3, 40, [2, 2, 2, 2]);
    answer.steps[2]!.run();
    answer.steps[3]!.run();
    const bits = answer.bits()!;
    const words = [0, 1, 2, 3].map((i) => Number.parseInt(bits.slice(1 + 16 * i, 17 + 16 * i).join(""), 2));
    expect(words).toEqual([1, 1, 2, 2]);
  });
});
