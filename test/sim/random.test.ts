import { describe, expect, it } from "vitest";
import { Random, scramble } from "../../sim/random.ts";

describe("scramble", () => {
  it("is the finaliser of MurmurHash3: its hash of nothing with these seeds", () => {
    // Widely published test vectors of MurmurHash3_x86_32 for the empty key; from memory.
    expect(scramble(0)).toBe(0);
    expect(scramble(1)).toBe(0x514e28b7);
    expect(scramble(0xffffffff)).toBe(0x81f16f39);
  });
});

describe("Random", () => {
  const draw = (random: Random, count: number) => Array.from({ length: count }, () => random.integer());

  it("repeats itself for the same seed and stream, and for no other", () => {
    expect(draw(new Random(7, "a"), 50)).toEqual(draw(new Random(7, "a"), 50));
    expect(draw(new Random(7, "a"), 50)).not.toEqual(draw(new Random(8, "a"), 50));
    expect(draw(new Random(7, "a"), 50)).not.toEqual(draw(new Random(7, "b"), 50));
  });

  it("fills [0, 1) evenly", () => {
    const random = new Random(1, "even");
    const bins = new Array(10).fill(0);
    for (let i = 0; i < 20_000; i++) bins[Math.floor(random.fraction() * 10)]++;
    // Binomial: 2000 a bin, standard deviation 42; five of them either way.
    for (const bin of bins) expect(Math.abs(bin - 2000)).toBeLessThan(212);
  });

  it("makes noise of mean 0 and standard deviation 1", () => {
    const random = new Random(2, "noise");
    const values = Array.from({ length: 20_000 }, () => random.noise());
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1);
    // Standard errors of mean and variance for 20 000 values: 0.0071 and 0.0100; five of them.
    expect(Math.abs(mean)).toBeLessThan(0.036);
    expect(Math.abs(variance - 1)).toBeLessThan(0.05);
  });

  it("shuffles into every order about equally often and keeps its argument", () => {
    const random = new Random(3, "shuffle");
    const items = [1, 2, 3];
    const counts = new Map<string, number>();
    for (let i = 0; i < 6000; i++) {
      const order = random.shuffled(items).join("");
      counts.set(order, (counts.get(order) ?? 0) + 1);
    }
    expect(items).toEqual([1, 2, 3]);
    expect([...counts.keys()].sort()).toEqual(["123", "132", "213", "231", "312", "321"]);
    // Binomial: 1000 an order, standard deviation 29; five of them.
    for (const count of counts.values()) expect(Math.abs(count - 1000)).toBeLessThan(145);
  });
});
