import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { type MatchResult, solveMatch } from "../../../../host/cli/radio/match-result.ts";
import { readMatchScenario } from "../../../../host/cli/radio/match-scenario.ts";

const folder = mkdtempSync(join(tmpdir(), "plyframe-match-"));
afterAll(() => rmSync(folder, { recursive: true }));

function solved(scenario: object): MatchResult {
  writeFileSync(join(folder, "s.json"), JSON.stringify(scenario));
  return solveMatch(readMatchScenario(join(folder, "s.json")));
}

describe("the way from the scenario's units to the result", () => {
  it("a circuit of 20 ohm and 30 nH", () => {
    const circuit = { series: [{ resistance_ohm: 20 }, { inductance_nh: 30 }] };
    const { antennaOhm } = solved({ antenna: { circuit } });
    expect(antennaOhm.re).toBe(20);
    expect(antennaOhm.im).toBeCloseTo(2 * Math.PI * 866.5e6 * 30e-9, 9);
  });

  it("a chip of 1500 ohm beside 1 pF, and one of 20 - 200j ohm", () => {
    const parallel = { parallel_resistance_ohm: 1500, parallel_capacitance_pf: 1 };
    const quality = 2 * Math.PI * 866.5e6 * 1500 * 1e-12;
    expect(solved({ chip: { impedance: [parallel] } }).chipOhm.re).toBeCloseTo(1500 / (1 + quality ** 2), 9);
    const series = { series_resistance_ohm: 20, series_reactance_ohm: -200, frequency_mhz: 866.5 };
    expect(solved({ chip: { impedance: [series] } }).chipOhm).toEqual({ re: 20, im: expect.closeTo(-200, 9) });
  });

  it("layers count by number and condition", () => {
    const layers = [
      { name: "a", layers: 2, dry_loss_db: 0.1, wet_loss_db: 1 },
      { name: "b", layers: 3, dry_loss_db: 0.2, wet_loss_db: 2 },
    ];
    const { budgets } = solved({ link: { layers, body_loss_db: 3 } });
    expect(budgets.dry.excessLossDb).toBeCloseTo(3.8, 9);
    expect(budgets.wet.excessLossDb).toBeCloseTo(11, 9);
    // One way for the power that arrives, both ways for what comes back.
    expect(budgets.dry.chipDbm - budgets.wet.chipDbm).toBeCloseTo(7.2, 6);
    expect(budgets.dry.backscatterDbm - budgets.wet.backscatterDbm).toBeCloseTo(14.4, 6);
  });

  it("percent, seed and trials reach the yield", () => {
    const none = Object.fromEntries(
      ["chip_resistance", "chip_capacitance", "antenna_resistance", "antenna_reactance"].map((part) => [
        `${part}_percent`,
        0,
      ]),
    );
    const of = (tolerances: object, inductor: object) =>
      solved({ tolerances: { ...none, ...tolerances }, inductor }).yield;
    expect(of({ trials: 321 }, { tolerance_percent: 0 })).toMatchObject({ passed: 321, trials: 321 });
    expect(of({ chip_capacitance_percent: 40 }, { tolerance_percent: 0 }).share).toBeLessThan(0.9);
    expect(of({}, { tolerance_percent: 95, lowest_nh: 7.5, highest_nh: 7.5 }).share).toBeLessThan(1);
  });
});

describe("budget", () => {
  it("of a chip whose impedance depends on power is worse than that of its turn-on where it is fed more", () => {
    const at = (power_dbm: number, ohm: number) => ({
      power_dbm,
      parallel_resistance_ohm: ohm,
      parallel_capacitance_pf: 0.98,
    });
    const link = { distance_m: 0.25 };
    const steady = solved({ chip: { impedance: [at(-8, 1600)] }, link }).budgets.dry;
    const falling = solved({ chip: { impedance: [at(-8, 1600), at(0, 200)] }, link }).budgets.dry;
    expect(falling.turnOnDbm).toBeCloseTo(steady.turnOnDbm, 6);
    expect(falling.chipDbm).toBeLessThan(steady.chipDbm - 0.1);
  });

  it("margins vanish at the maximum distance, and the legal limit is further by the root of the power to spare", () => {
    const first = solved({}).budgets.dry;
    const there = solved({ link: { distance_m: first.rangeM } }).budgets.dry;
    expect(first.limitedBy).toBe("forward");
    expect(there.forwardMarginDb).toBeCloseTo(0, 6);
    // 27 - 1 + 6 = 32 dBm are radiated; 2 W ERP are 35.1587 dBm EIRP.
    expect(first.rangeAtLimitM / first.rangeM).toBeCloseTo(10 ** (3.1587 / 20), 4);
  });

  it("says when the way back is the shorter one", () => {
    const { limitedBy, rangeM } = solved({ link: { sensitivity_dbm: -40 } }).budgets.dry;
    expect(limitedBy).toBe("backscatter");
    const there = solved({ link: { sensitivity_dbm: -40, distance_m: rangeM } }).budgets.dry;
    expect(there.backscatterMarginDb).toBeCloseTo(0, 6);
  });
});
