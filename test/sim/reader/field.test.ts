/** What the reader's receiver makes of several replies at once: collisions, and the strongest of them when it is strong enough. */
import { describe, expect, it } from "vitest";
import type { Bits } from "../../../sim/air/bits.ts";
import type { Command } from "../../../sim/air/command.ts";
import { Random } from "../../../sim/random.ts";
import { Field, type Received, type Responder } from "../../../sim/reader/field.ts";
import type { Answer } from "../../../sim/tag/answer.ts";
import { FAST, QUERY } from "../support/air-partner.ts";

/** A tag that answers everything with one bit pattern, T1 after the command: 15.625 µs with this profile. */
function responder(rssiDbm: number, value: number, more: Partial<Answer> = {}): Responder & { heard: number[] } {
  const bits: Bits = Array.from({ length: 16 }, (_, i) => (value >> (15 - i)) & 1);
  const heard: number[] = [];
  return {
    heard,
    hear: ({ startUs, endUs }) => {
      heard.push(startUs, endUs);
      return { steps: [], startUs: endUs + 15.625, delayed: false, bits: () => bits, ...more };
    },
    rssiDbm: () => rssiDbm,
  };
}

function say(tags: readonly Responder[], captureDb: number | null = 10, command: Command = QUERY) {
  const field = new Field(tags, new Random(1, "receiver"), { profile: FAST, sensitivityDbm: -74, captureDb });
  const process = field.say(1000, command);
  const yields: number[] = [];
  for (;;) {
    const step = process.next();
    if (step.done) return { received: step.value as Received, yields };
    yields.push(step.value);
  }
}

const patternOf = ({ bits }: Received) => Number.parseInt(bits.join(""), 2);

describe("two replies at once", () => {
  it("collide when they are alike, and when captures are not made", () => {
    expect(say([responder(-40, 1), responder(-40, 2)]).received.kind).toBe("collision");
    expect(say([responder(-40, 1), responder(-70, 2)], null).received.kind).toBe("collision");
  });

  it.each([
    [9.9, "collision"],
    [10.1, "reply"],
  ])("%f dB apart with a capture ratio of 10 dB: %s", (apart, kind) => {
    for (const order of [0, 1]) {
      const tags = [responder(-40, 0x1111), responder(-40 - apart, 0x2222)];
      const { received } = say(order === 0 ? tags : tags.reverse());
      expect(received.kind).toBe(kind);
      expect(received.bits).toHaveLength(kind === "reply" ? 16 : 0);
      if (kind === "reply") expect([patternOf(received), received.rssiDbm]).toEqual([0x1111, -40]);
    }
  });

  it("of which the weaker ones count together: three of them 11 dB below are 6.2 dB below", () => {
    const weak = [2, 3, 4].map((value) => responder(-51, value));
    expect(say([responder(-40, 1), ...weak]).received.kind).toBe("collision");
    expect(say([responder(-40, 1), ...weak.slice(0, 1)]).received.kind).toBe("reply");
    // Three of them 14.8 dB below are 10.03 dB below.
    expect(say([responder(-40, 1), ...[2, 3, 4].map((value) => responder(-54.8, value))]).received.kind).toBe("reply");
    expect(say([responder(-40, 1), ...[2, 3, 4].map((value) => responder(-54.7, value))]).received.kind).toBe(
      "collision",
    );
  });
});

describe("one reply", () => {
  it("is understood when it is strong and is silence when it is far below the receiver's sensitivity", () => {
    expect(say([responder(-40, 7)]).received).toMatchObject({ kind: "reply", rssiDbm: -40 });
    expect(say([responder(-100, 7)]).received.kind).toBe("silence");
  });

  it("half the time at the sensitivity itself", () => {
    const field = new Field([responder(-74, 7)], new Random(1, "receiver"), {
      profile: FAST,
      sensitivityDbm: -74,
      captureDb: null,
    });
    let understood = 0;
    for (let i = 0; i < 1000; i++) {
      const process = field.say(1000, QUERY);
      let step = process.next();
      while (!step.done) step = process.next();
      if ((step.value as Received).kind === "reply") understood++;
    }
    // Binomial: four standard deviations of 15.8.
    expect(Math.abs(understood - 500)).toBeLessThan(64);
  });

  it("that a tag lost power over is silence", () => {
    expect(say([responder(-40, 7, { bits: () => null })]).received.kind).toBe("silence");
  });
});

describe("time", () => {
  // With Tari 6.25, RTcal 15.625, TRcal 33.33 µs: T1 15.625, T2 4.6875 to 31.25, T4 31.25 µs; a bit of the reply 1.5625 µs.
  it("of a reply: T1, six symbols of preamble, its bits, the dummy bit, then the shortest T2", () => {
    const tag = responder(-40, 7);
    const { received } = say([tag]);
    const [, endUs] = tag.heard as [number, number];
    expect(received.nextUs - endUs).toBeCloseTo(15.625 + (6 + 16 + 1) * 1.5625 + 4.6875, 6);
  });

  it("of silence: T1 and three periods of the link; a Select is followed after T4", () => {
    const { received, yields } = say([]);
    expect(received.nextUs - yields[0]!).toBeCloseTo(15.625 + 4.6875, 6);
    const select = { kind: "select", target: 0, action: 0, bank: 1, pointer: 0, mask: [], truncate: false } as const;
    const after = say([], null, select);
    expect(after.received.nextUs - after.yields[0]!).toBeCloseTo(31.25, 6);
  });

  it("of silence behind a command that writes: 20 ms more", () => {
    const write = { kind: "write", bank: 3, word: 0, covered: 0, handle: 0 } as const;
    const { received, yields } = say([], null, write);
    expect(received.nextUs - yields[0]!).toBeCloseTo(20_000 + 15.625 + 4.6875, 6);
  });
});
