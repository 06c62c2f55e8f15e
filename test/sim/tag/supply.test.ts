import { describe, expect, it } from "vitest";
import { type SupplyState, ThresholdSupply } from "../../../sim/tag/supply.ts";

const TURN_ON = -9;
const MS = 1000;

/** States at each step of 10 ms for a list of powers in dBm held for some milliseconds. */
function run(parts: readonly (readonly [dBm: number, ms: number])[]): {
  states: SupplyState[];
  supply: ThresholdSupply;
} {
  const supply = new ThresholdSupply(TURN_ON);
  const states: SupplyState[] = [];
  let nowUs = 0;
  for (const [dBm, ms] of parts) {
    for (let i = 0; i < ms / 10; i++, nowUs += 10 * MS) states.push(supply.step(nowUs, dBm));
  }
  return { states, supply };
}

describe("ThresholdSupply", () => {
  it("starts only after the field has been strong enough without a break", () => {
    expect(run([[-9.01, 1000]]).states).not.toContain("on");
    const { states } = run([[-9, 100]]);
    expect(states[0]).toBe("off");
    expect(states.at(-1)).toBe("on");
    expect(
      run([
        [-9, 30],
        [-10, 10],
        [-9, 30],
      ]).states,
    ).not.toContain("on");
  });

  it("rides through a small dip, holds RAM through a short one and loses it in a long one", () => {
    expect(
      run([
        [-5, 100],
        [-9.9, 500],
      ]).states.at(-1),
    ).toBe("on");
    expect(
      run([
        [-5, 100],
        [-10.1, 250],
      ]).states.at(-1),
    ).toBe("held");
    expect(
      run([
        [-5, 100],
        [-10.1, 250],
        [-9, 10],
      ]).states.at(-1),
    ).toBe("on");
    expect(
      run([
        [-5, 100],
        [-10.1, 400],
      ]).states.at(-1),
    ).toBe("off");
    expect(
      run([
        [-5, 100],
        [-10.1, 400],
        [-9, 10],
      ]).states.at(-1),
    ).toBe("off");
  });

  it("loses power when the carrier goes", () => {
    const { states, supply } = run([
      [0, 100],
      [Number.NEGATIVE_INFINITY, 400],
    ]);
    expect(states.at(-1)).toBe("off");
    expect(supply.volts).toBe(0);
  });

  it("gives more volts for more power, up to the regulator's end", () => {
    const volts = (dBm: number) => run([[dBm, 10]]).supply.volts;
    expect(volts(-9)).toBeLessThan(volts(-5));
    expect(volts(20)).toBe(volts(30));
  });
});
