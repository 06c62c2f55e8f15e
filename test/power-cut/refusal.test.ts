import { describe, expect, it } from "vitest";
import { compareSerial } from "../../protocol/codec/slots.ts";
import { shippedModule } from "../../sim/firmware/program.ts";
import { type Life, live } from "./life.ts";
import { raws, viewOf } from "./view.ts";
import { after, plainWorkloads } from "./workloads.ts";
import { sampleOf } from "./world.ts";

const SAMPLE_LOST = 0x10;
const module = shippedModule();
const { cells } = plainWorkloads.find(({ name }) => name === "frames")!;
const samples = (n: number) => sampleOf(1, n);
const lived = (refuses: (call: number) => boolean, frames: number) =>
  live(module, cells, { samples, end: after("frame", frames), refuses });
const calls = lived(() => false, 4).bridge.calls;

/** Every frame a reader could get, in turn, as the writes reach memory one by one. */
function framesSeen({ before, bridge }: Life) {
  const memory = before.copy();
  return [null, ...bridge.writes].map((write) => {
    if (write) memory.write(write.word, write.value);
    const { frame } = viewOf(memory, "old");
    return frame === null ? null : raws("frame", frame)!;
  });
}

describe(`a bridge that refuses one call, each of ${calls}`, () => {
  const lives = Array.from({ length: calls }, (_, refused) => lived((call) => call === refused, 6));

  it("does not stop the firmware", () => {
    expect(lives.filter(({ ended }) => !ended)).toEqual([]);
  });

  it("never takes the frame away, nor the sequence back", () => {
    for (const life of lives) {
      const seen = framesSeen(life);
      for (let i = 1; i < seen.length; i++) {
        expect(seen[i]).not.toBeNull();
        expect([0, 1]).toContain(compareSerial(seen[i]!.sequence!, seen[i - 1]!.sequence!));
      }
    }
  });

  it("never puts an old sample under a new sequence, nor two samples into one frame", () => {
    const known = new Map(Array.from({ length: 20 }, (_, n) => [samples(n).pressure, samples(n)]));
    for (const life of lives) {
      const bySequence = new Map<number, number>();
      for (const frame of framesSeen(life)) {
        if (frame!.sequence! <= 101) continue;
        const sample = known.get(frame!.pressure!)!;
        expect([frame!.temperature, frame!.supply]).toEqual([sample.temperature, sample.supplyMv]);
        expect(bySequence.get(frame!.sequence!) ?? frame!.pressure).toBe(frame!.pressure);
        bySequence.set(frame!.sequence!, frame!.pressure!);
      }
      expect(new Set(bySequence.values()).size).toBe(bySequence.size);
    }
  });

  it("is told of by the next frame when a frame was lost to it", () => {
    const sequences = (life: Life) => new Set(framesSeen(life).map((frame) => frame!.sequence)).size;
    const plain = sequences(lived(() => false, 6));
    // A commit that is given up counts as one of the six: a frame was lost.
    const lost = lives.filter((life) => sequences(life) < plain);
    expect(lost.length).toBeGreaterThan(30);
    for (const life of lost) expect(framesSeen(life).some((frame) => (frame!.status! & SAMPLE_LOST) !== 0)).toBe(true);
  });
});

describe("a bridge that refuses everything", () => {
  it("is asked again at every period, and nothing is written", () => {
    const life = lived(() => true, 1);
    expect(life.ended).toBe(false);
    expect(life.bridge.writes).toEqual([]);
    // 5000 steps, each of which asked once and slept: not a loop that never sleeps.
    expect(life.bridge.calls).toBeLessThanOrEqual(5001);
  });
});
