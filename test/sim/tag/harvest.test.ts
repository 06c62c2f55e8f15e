/** Tags with the firmware in them, on their power budget: what a reader's power and absence do to their frames. */
import { describe, expect, it } from "vitest";
import { makeKit } from "../../../sim/index.ts";
import { trainingLeg } from "../../../sim/scenario/training-leg.ts";
import { LinkHost } from "../support/link-host.ts";

const S = 1e6;
const [first] = trainingLeg.tags;
const steady = { ...first!, coupling: { ...first!.coupling, fading: [], walkingLossDb: 0 } };
const epc = steady.epc.match(/.{4}/g)!.map((group) => Number.parseInt(group, 16));
const INVENTORY = { period: 200, bank: 3, pointer: 0, word_count: 32 };

const host = () => new LinkHost(makeKit({ ...trainingLeg, tags: [steady] }));

/** Cold starts and frames of the newest counters. */
function counters(kit: LinkHost): { cold: number; frames: number } {
  for (let i = 0; i < 100; i++) {
    const request = { password: 0, bank: 3, pointer: 24, word_count: 16, epc_words: 6 };
    const words = kit.ask("read", request, { epc }).content.tails.words!;
    if (words.length > 0) return { cold: Math.max(words[2]!, words[10]!), frames: Math.max(words[6]!, words[14]!) };
  }
  throw new Error("the tag does not answer");
}

/** Frames counted in a minute with the reader at this power. */
function framesAt(powerDbm: number): number {
  const kit = host();
  kit.ask("set_power", { power: powerDbm * 100 });
  kit.ask("start_inventory", INVENTORY);
  kit.wait(60 * S);
  kit.ask("set_power", { power: 3000 });
  return counters(kit).frames;
}

describe("a tag on its harvest", () => {
  it("makes fewer frames the less power the reader has", () => {
    // The header asks for four frames a second; at 29 dBm the tag has 0 dBm, at 17 dBm -12 dBm.
    const frames = [29, 21, 19, 17].map(framesAt);
    expect(frames[0]).toBeGreaterThan(200);
    for (let i = 1; i < frames.length; i++) expect(frames[i]).toBeLessThan(frames[i - 1]!);
    expect(frames[3]).toBeLessThan(frames[0]! / 2);
    expect(frames[3]).toBeGreaterThan(10);
  });

  it("stops when the reader is taken away, and starts cold when it comes back", () => {
    const kit = host();
    kit.ask("start_inventory", INVENTORY);
    kit.wait(10 * S);
    const before = counters(kit);
    kit.ask("stop_inventory");
    kit.wait(60 * S);
    kit.ask("start_inventory", INVENTORY);
    kit.wait(3 * S);
    const after = counters(kit);
    expect([before.cold, after.cold]).toEqual([1, 2]);
    // A minute without a field is not 240 frames: it is what the store still gave, and three seconds of the new field.
    expect(after.frames - before.frames).toBeLessThan(40);
  });
});
