/** Rounds with many tags, each a chip with an EPC of its own, all of them strong: what is missed is missed by the rounds. */
import { describe, expect, it } from "vitest";
import { Random } from "../../../sim/random.ts";
import { Field, type Responder } from "../../../sim/reader/field.ts";
import { Interrogator } from "../../../sim/reader/interrogator.ts";
import type { Sighting } from "../../../sim/reader/orders.ts";
import { Transmitter } from "../../../sim/reader/transmitter.ts";
import { trainingLeg } from "../../../sim/scenario/training-leg.ts";
import { Chip } from "../../../sim/tag/chip.ts";
import { commissionedMemory } from "../../../sim/tag/factory.ts";
import { FAST } from "../support/air-partner.ts";

/** Sightings of `count` tags in `rounds` rounds of a second, and how many slots each round had on average. */
function work(count: number, rounds: number): { sightings: Sighting[]; slots: number } {
  let slots = 0;
  const tags = Array.from({ length: count }, (_, i): Responder => {
    const memory = commissionedMemory(trainingLeg.tags[0]!);
    memory.poke(1, 7, [0x1000 + i]);
    const chip = new Chip(memory, new Random(7, `many ${i}`), (nowUs) => nowUs);
    chip.powerUp(0);
    return {
      hear: (transmission) => {
        // A Query begins with 1000, QueryRep with 00, QueryAdjust with 1001: each is a slot.
        if (i === 0 && /^(00|1000|1001)/.test(transmission.bits.slice(0, 4).join(""))) slots++;
        return chip.hear({ ...transmission, canWrite: true });
      },
      rssiDbm: () => -40,
    };
  });
  const field = new Field(tags, new Random(7, "receiver"), { profile: FAST, sensitivityDbm: -74, captureDb: null });
  const interrogator = new Interrogator(field, new Transmitter(new Random(7, "channels")));
  const sightings: Sighting[] = [];
  interrogator.start(0, { periodUs: 1e6, accesses: () => [], onSighting: (sighting) => sightings.push(sighting) });
  while (interrogator.nextUs < rounds * 1e6) interrogator.run();
  return { sightings, slots: slots / rounds };
}

describe("rounds", () => {
  it.each([1, 2, 5, 20, 60])("see each of %i tags once a round", (count) => {
    const { sightings } = work(count, 10);
    for (let i = 0; i < count; i++) {
      const seen = sightings.filter(({ identity }) => identity.epc[5] === 0x1000 + i).map(({ timeUs }) => timeUs);
      expect(seen.map((timeUs) => Math.floor(timeUs / 1e6))).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    }
  });

  it("of 60 tags take no more than twice the slots that theory has at the best: 60 e", () => {
    const { slots } = work(60, 10);
    expect(slots).toBeGreaterThan(60);
    expect(slots).toBeLessThan(2 * 60 * Math.E);
  });
});
