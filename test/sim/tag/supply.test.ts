import { describe, expect, it } from "vitest";
import { TagSupply } from "../../../sim/tag/supply.ts";
import { design } from "../power/design.ts";

// Half of what comes in reaches the store of 100 uF: at 0 dBm half a milliwatt, above 0.6 V.
const S = 1e6;
const supply = () => new TagSupply(design, 100e-6);

/** Runs until the supervisor switches or the time is over. */
function until(tag: TagSupply, toUs: number, loadA: number): number {
  return tag.runTo(toUs, loadA);
}

describe("a tag's supply", () => {
  it("starts when the store is full, to the microsecond", () => {
    const tag = supply();
    tag.setLevel(0);
    // ½·C·V²: 18 uJ to 0.6 V at 0.15 mW, then 270 uJ to 2.4 V at 0.5 mW; leaks and series resistance take about a percent.
    const atUs = until(tag, 10 * S, 0);
    expect(tag.on).toBe(true);
    expect(Number.isInteger(atUs)).toBe(true);
    expect(atUs).toBeGreaterThan(0.66 * S);
    expect(atUs).toBeLessThan(0.67 * S);
  });

  it("does not start on a field that is too weak, however long", () => {
    const tag = supply();
    tag.setLevel(-25);
    expect(until(tag, 3600 * S, 0)).toBe(3600 * S);
    expect(tag.on).toBe(false);
  });

  it("carries the load on without a field until the store is used up, and then no further", () => {
    const tag = supply();
    tag.setLevel(0);
    const onUs = until(tag, 10 * S, 0);
    tag.setLevel(Number.NEGATIVE_INFINITY);
    // 100 uF from 2.4 V to 1.7 V at 100 uA: 0.7 s; quiescent currents make it a percent less.
    const lastedUs = until(tag, 60 * S, 100e-6) - onUs;
    expect(tag.on).toBe(false);
    expect(lastedUs).toBeGreaterThan(0.68 * S);
    expect(lastedUs).toBeLessThan(0.7 * S);
  });

  it("shows the processor the store's voltage, and the clamp as the most of it", () => {
    const tag = supply();
    expect(tag.volts).toBe(0);
    tag.setLevel(10);
    until(tag, 1 * S, 0);
    tag.runTo(10 * S, 1e-6);
    expect(tag.volts).toBeGreaterThan(3.29);
    expect(tag.volts).toBeLessThan(3.31);
  });
});
