/**
 * Time on a channel against the rules' own figures: 4 s at a stretch and 100 ms of rest (EN 302 208), 0.4 s in any 20 s
 * (47 CFR 15.247), both from memory. What is judged is when the carrier was on which channel, and nothing of how it was chosen.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Random } from "../../../sim/random.ts";
import type { ChannelPlan } from "../../../sim/reader/channel-rule.ts";
import { airOf } from "../../../sim/reader/kit-air.ts";
import { Transmitter } from "../../../sim/reader/transmitter.ts";
import { trainingLeg } from "../../../sim/scenario/training-leg.ts";

/** Stretches of carrier on one channel, by channel in kHz, in order of time. */
type Stretches = Map<number, { readonly fromUs: number; toUs: number }[]>;

function add(stretches: Stretches, channelKhz: number, fromUs: number, toUs: number): void {
  const known = stretches.get(channelKhz) ?? [];
  stretches.set(channelKhz, known);
  const last = known.at(-1);
  if (last && fromUs <= last.toUs) last.toUs = Math.max(last.toUs, toUs);
  else known.push({ fromUs, toUs });
}

/** Longest carrier time on any channel in any window of 20 s; the worst window ends with a stretch. */
function mostInWindowUs(stretches: Stretches): number {
  let most = 0;
  for (const list of stretches.values()) {
    for (const { toUs: end } of list) {
      const begin = end - 20e6;
      const inside = list.map(({ fromUs, toUs }) => Math.max(0, Math.min(toUs, end) - Math.max(fromUs, begin)));
      most = Math.max(
        most,
        inside.reduce((sum, us) => sum + us, 0),
      );
    }
  }
  return most;
}

/** Longest stretch on any channel when pauses below 100 ms do not end it. */
function longestStretchUs(stretches: Stretches): number {
  let longest = 0;
  for (const list of stretches.values()) {
    let begin = list[0]!.fromUs;
    for (const [i, { fromUs, toUs }] of list.entries()) {
      if (i > 0 && fromUs - list[i - 1]!.toUs >= 100_000) begin = fromUs;
      longest = Math.max(longest, toUs - begin);
    }
  }
  return longest;
}

describe("the judges of this test", () => {
  it("see a channel that comes back too soon, and one that rests too little", () => {
    const early: Stretches = new Map();
    add(early, 1, 0, 400_000);
    add(early, 1, 18e6, 18.4e6);
    expect(mostInWindowUs(early)).toBe(800_000);
    const split: Stretches = new Map();
    add(split, 1, 0, 3e6);
    add(split, 1, 3.09e6, 5e6);
    expect(longestStretchUs(split)).toBe(5e6);
    const rested: Stretches = new Map();
    add(rested, 1, 0, 3e6);
    add(rested, 1, 3.1e6, 5e6);
    expect(longestStretchUs(rested)).toBe(3e6);
  });
});

/** The reader at work on one tag, looked at every 500 µs. */
const STEP_US = 500;

interface Work {
  readonly stretches: Stretches;
  readonly onUs: number;
  readonly sightings: number;
}

/** `changes`: plans from kit time 0 on, each for so many seconds, one behind the other; null: no inventory for so long. */
function atWork(...changes: readonly (readonly [plan: ChannelPlan | null, seconds: number])[]): Work {
  const tags = trainingLeg.tags.slice(0, 1);
  const air = airOf({ ...trainingLeg, tags });
  const stretches: Stretches = new Map();
  let sightings = 0;
  let onUs = 0;
  const access = { kind: "read", bank: 3, word: 0, count: 24 } as const;
  const inventory = {
    periodUs: 70_000,
    accesses: () => [{ password: 0, access }],
    onSighting: () => void sightings++,
  };
  let nowUs = 0;
  let on = false;
  for (const [plan, seconds] of changes) {
    if (plan === null) air.interrogator.stop();
    else {
      air.interrogator.follow(nowUs, plan);
      if (!on) air.interrogator.start(nowUs, inventory);
    }
    on = plan !== null;
    for (const endUs = nowUs + seconds * 1e6; nowUs < endUs; nowUs += STEP_US) {
      while (air.interrogator.nextUs <= nowUs) {
        for (const tag of air.tags) tag.advance(air.interrogator.nextUs);
        air.interrogator.run();
      }
      for (const tag of air.tags) tag.advance(nowUs);
      if (!air.transmitter.isOn(nowUs)) continue;
      onUs += STEP_US;
      add(stretches, air.transmitter.channelKhz, nowUs, nowUs + STEP_US);
    }
  }
  return { stretches, onUs, sightings };
}

describe("a reader at work", () => {
  it("us: fifty channels, none with more than 0.4 s in any 20 s, and a carrier that never rests", () => {
    const { stretches, onUs, sightings } = atWork(["us", 240]);
    expect(stretches.size).toBe(50);
    // Each stretch may look longer by the step of looking.
    expect(mostInWindowUs(stretches)).toBeLessThanOrEqual(400_000 + STEP_US);
    expect(onUs).toBe(240e6);
    expect(sightings).toBeGreaterThan(2000);
  }, 120_000);

  it.each([
    ["eu_lower", 4],
    ["eu_upper", 3],
  ] as const)(
    "%s: %i channels, at most 4 s on one, then 100 ms of rest",
    (plan, count) => {
      const { stretches, onUs, sightings } = atWork([plan, 120]);
      expect(stretches.size).toBe(count);
      expect(longestStretchUs(stretches)).toBeLessThanOrEqual(4e6 + STEP_US);
      expect(onUs).toBe(120e6);
      expect(sightings).toBeGreaterThan(1000);
    },
    120_000,
  );

  it.each(["us", "eu_upper"] as const)(
    "%s: keeps the rule when it is switched off and on again and again",
    (plan) => {
      const stays = [0.33, 0.05, 3.7, 0.21, 0.38, 0.01, 0.7, 0.09, 3.9, 0.06];
      const pattern = stays.map((seconds, i) => [i % 2 === 0 ? plan : null, seconds] as const);
      const { stretches } = atWork(...Array.from({ length: 12 }, () => pattern).flat());
      if (plan === "us") expect(mostInWindowUs(stretches)).toBeLessThanOrEqual(400_000 + STEP_US);
      else expect(longestStretchUs(stretches)).toBeLessThanOrEqual(4e6 + STEP_US);
    },
    120_000,
  );

  it("leaves a plan that is no longer in force at once and comes back to it as if it had never left", () => {
    const turn = [
      ["us", 0.13],
      ["eu_upper", 0.2],
      ["us", 0.3],
      ["eu_upper", 1.7],
    ] as const;
    const { stretches, onUs } = atWork(...Array.from({ length: 30 }, () => turn).flat());
    const american = new Map([...stretches].filter(([khz]) => khz % 500 === 250));
    const european = new Map([...stretches].filter(([khz]) => khz % 500 !== 250));
    expect([...european.keys()].sort()).toEqual([916_300, 917_500, 918_700]);
    expect(american.size).toBe(50);
    expect(mostInWindowUs(american)).toBeLessThanOrEqual(400_000 + STEP_US);
    expect(longestStretchUs(european)).toBeLessThanOrEqual(4e6 + STEP_US);
    // Of the 2.33 s of a turn; what is missing is the carrier's silence from a change to the next command.
    expect(onUs).toBeGreaterThan(0.98 * 30 * 2.33e6);
    const usedUs = [...american.values()].flat().reduce((sum, { fromUs, toUs }) => sum + toUs - fromUs, 0);
    expect(usedUs).toBeLessThanOrEqual(30 * 0.43e6);
  }, 120_000);
});

/** Things that may happen to a transmitter, each after some time. */
const happenings = fc.array(
  fc.record({
    afterUs: fc.oneof(fc.integer({ min: 0, max: 60_000 }), fc.integer({ min: 0, max: 6_000_000 })),
    what: fc.constantFrom("say", "say", "say", "say", "idle", "us", "eu_lower", "eu_upper", "off"),
    forUs: fc.integer({ min: 1, max: 100_000 }),
  }),
  { minLength: 20, maxLength: 400 },
);

describe("a transmitter", () => {
  it("keeps every rule whatever is asked of it in whatever order, plans changed under way included", () => {
    fc.assert(
      fc.property(happenings, (list) => {
        const transmitter = new Transmitter(new Random(4, "channels"));
        const stretches: Stretches = new Map();
        let nowUs = 0;
        /** Carrier on the channel it stands on until then. */
        const stay = (untilUs: number) => {
          if (transmitter.isOn(nowUs)) add(stretches, transmitter.channelKhz, nowUs, untilUs);
          nowUs = untilUs;
        };
        /** Time goes on, with the carrier tuned whenever it has to be. */
        const live = (untilUs: number) => {
          for (let i = 0; ; i++) {
            expect(i).toBeLessThan(100);
            const tuneUs = transmitter.isOn(nowUs) ? transmitter.tuneUs(45_000) : Number.POSITIVE_INFINITY;
            if (tuneUs > untilUs) break;
            stay(Math.max(nowUs, tuneUs));
            transmitter.tune(nowUs, 45_000);
          }
          stay(untilUs);
        };
        for (const { afterUs, what, forUs } of list) {
          live(nowUs + afterUs);
          if (what === "off") transmitter.keep(false);
          else if (what === "idle") {
            transmitter.keep(true);
            transmitter.tune(nowUs, 0);
          } else if (what === "say") {
            transmitter.keep(true);
            let startUs = transmitter.tune(nowUs, forUs);
            if (startUs > nowUs) {
              stay(startUs);
              startUs = transmitter.tune(nowUs, forUs);
            }
            expect(startUs).toBe(nowUs);
            stay(nowUs + forUs);
          } else transmitter.plan = what as ChannelPlan;
        }
        // The centres of the fifty American channels end in 250 or 750 kHz, no European one does.
        const american: Stretches = new Map([...stretches].filter(([khz]) => khz % 500 === 250));
        const european: Stretches = new Map([...stretches].filter(([khz]) => khz % 500 !== 250));
        expect(mostInWindowUs(american)).toBeLessThanOrEqual(400_000);
        expect(longestStretchUs(european)).toBeLessThanOrEqual(4e6);
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it("goes off with a change of plan until it is tuned to the new one, and not with the plan it has", () => {
    const transmitter = new Transmitter(new Random(4, "channels"));
    transmitter.keep(true);
    transmitter.tune(0, 45_000);
    transmitter.plan = "eu_lower";
    expect(transmitter.carrierDbm(1000)).toBe(30);
    transmitter.plan = "us";
    expect(transmitter.carrierDbm(1000)).toBe(Number.NEGATIVE_INFINITY);
    transmitter.tune(2000, 45_000);
    expect(transmitter.carrierDbm(2000)).toBe(30);
    expect(transmitter.channelKhz % 500).toBe(250);
  });

  it("begins an exchange that ends with the visit, and has one that does not wait for the next", () => {
    const transmitter = new Transmitter(new Random(4, "channels"));
    transmitter.plan = "us";
    transmitter.keep(true);
    expect(transmitter.tune(1_000_000, 45_000)).toBe(1_000_000);
    const first = transmitter.channelKhz;
    expect(transmitter.tune(1_355_000, 45_000)).toBe(1_355_000);
    expect(transmitter.tune(1_355_001, 45_000)).toBe(1_400_000);
    expect(transmitter.channelKhz).toBe(first);
    expect(transmitter.tune(1_400_000, 45_000)).toBe(1_400_000);
    expect(transmitter.channelKhz).not.toBe(first);
    expect(transmitter.tune(1_400_000, 400_000)).toBe(1_400_000);
    expect(() => transmitter.tune(1_400_000, 400_001)).toThrow(RangeError);
  });
});
