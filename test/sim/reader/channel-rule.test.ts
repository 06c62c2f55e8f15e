/** Time on a channel, by the rules' own figures: 4 s and 100 ms of rest (EN 302 208), 0.4 s in 20 s (47 CFR 15.247), from memory. */
import { describe, expect, it } from "vitest";
import { Random } from "../../../sim/random.ts";
import type { ChannelPlan } from "../../../sim/reader/channel-rule.ts";
import { Transmitter } from "../../../sim/reader/transmitter.ts";

/** The channel in every step of 10 ms of a carrier that never rests. */
function channels(plan: ChannelPlan, seconds: number): number[] {
  const transmitter = new Transmitter(new Random(4, "channels"));
  transmitter.plan = plan;
  transmitter.keep(true);
  return Array.from({ length: seconds * 100 }, (_, i) => {
    transmitter.tune(i * 10_000, 45_000);
    return transmitter.channelKhz;
  });
}

describe("channel plans", () => {
  it.each(["eu_lower", "eu_upper"] as const)("%s: at most 4 s at a stretch, then another channel", (plan) => {
    const found = channels(plan, 120);
    let length = 1;
    for (let i = 1; i < found.length; i++) {
      length = found[i] === found[i - 1] ? length + 1 : 1;
      expect(length).toBeLessThanOrEqual(400);
    }
    expect(new Set(found).size).toBe(plan === "eu_lower" ? 4 : 3);
  });

  it("us: fifty channels, none for more than 0.4 s at a stretch, each visited before any is visited again", () => {
    const found = channels("us", 17);
    const visits = found.filter((channel, i) => channel !== found[i - 1]);
    expect(new Set(visits.slice(0, 47)).size).toBe(47);
    let length = 1;
    for (let i = 1; i < found.length; i++) {
      length = found[i] === found[i - 1] ? length + 1 : 1;
      expect(length).toBeLessThanOrEqual(40);
    }
  });
});
