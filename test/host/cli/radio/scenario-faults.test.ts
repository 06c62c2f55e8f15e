/** Every fault of a scenario or of a file it names is told with its line and member. */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { CommandError } from "../../../../host/cli/exit.ts";
import { readMatchScenario } from "../../../../host/cli/radio/match-scenario.ts";
import { readTurnOnScenario } from "../../../../host/cli/radio/turnon-scenario.ts";

const folder = mkdtempSync(join(tmpdir(), "plyframe-radio-"));
afterAll(() => rmSync(folder, { recursive: true }));
const file = (name: string, text: string) => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};

/** Status and sentences of reading a scenario, the folder's name left out. */
function refused(read: () => unknown): { status: number; says: string } {
  try {
    read();
  } catch (error) {
    if (error instanceof CommandError)
      return { status: error.status, says: error.message.replaceAll(`${folder}/`, "") };
    throw error;
  }
  throw new Error("it was not refused");
}

describe("match", () => {
  it.each([
    ["{", "s.json:1: not JSON"],
    ["[]", "s.json:1: give an object, not []"],
    [
      '{\n "chip": {\n  "turn_on": -8\n }\n}',
      "s.json:3: chip.turn_on: the unit is missing from the name: write turn_on_dbm",
    ],
    ['{"link": {"distance": 1}}', "s.json:1: link.distance: the unit is missing from the name: write distance_m"],
    ['{"link": {"distanz_m": 1}}', "s.json:1: link.distanz_m: not known here; known are region, conducted_dbm"],
    ['{"link": {\n"distance_m": "1 m"}}', 's.json:2: link.distance_m: give a number, not "1 m"'],
    ['{"link": {"distance_m": 0}}', "s.json:1: link.distance_m: 0 must be > 0"],
    ['{"link": {"cable_loss_db": -1}}', "s.json:1: link.cable_loss_db: -1 must be >= 0"],
    ['{"tau": 1.2}', "s.json:1: tau: 1.2 must be <= 1"],
    ['{"inductor": {"values": "E13"}}', 's.json:1: inductor.values: "E13" is none of E12, E24, E48'],
    ['{"inductor": {\n"lowest_nh": 9,\n"highest_nh": 3}}', "s.json:2: inductor.lowest_nh: 9 is above highest_nh 3"],
    ['{"tolerances": {"trials": 1.5}}', "s.json:1: tolerances.trials: give an integer, not 1.5"],
    ['{"antenna": {}}', "s.json:1: antenna: give exactly one of touchstone, table, circuit"],
    ['{"antenna": {"touchstone": "a.s1p", "table": []}}', "s.json:1: antenna: give exactly one of"],
    [
      '{"antenna": {"table": [\n{"frequency_mhz": 860, "resistance_ohm": -1, "reactance_ohm": 1}]}}',
      "s.json:2: antenna.table[0].resistance_ohm: -1 must be >= 0",
    ],
    [
      '{"antenna": {"table": [{"frequency_mhz": 860, "resistance_ohm": 1, "reactance_ohm": 1},\n{"frequency_mhz": 860, "resistance_ohm": 1, "reactance_ohm": 1}]}}',
      "s.json:2: antenna.table[1].frequency_mhz: 860 does not rise above the one before",
    ],
    [
      '{"antenna": {"table": [{"frequency_mhz": 860, "resistance_ohm": 1}]}}',
      "s.json:1: antenna.table[0]: reactance_ohm is missing",
    ],
    [
      '{"antenna": {"circuit": {"series": [{"inductance_nh": 20}, {"capacitance": 1}]}}}',
      "s.json:1: antenna.circuit.series[1].capacitance: the unit is missing from the name: write capacitance_pf",
    ],
    ['{"chip": {"impedance": []}}', "s.json:1: chip.impedance: give at least 1 of them"],
    ['{"chip": {"impedance": [{}]}}', "s.json:1: chip.impedance[0]: give either the parallel or the series"],
    [
      '{"chip": {"impedance": [{"series_resistance_ohm": 20, "series_reactance_ohm": -200}]}}',
      "s.json:1: chip.impedance[0]: series_reactance_ohm needs frequency_mhz beside it",
    ],
    [
      '{"chip": {"impedance": [{"series_resistance_ohm": 20, "series_reactance_ohm": 200, "frequency_mhz": 866}]}}',
      "s.json:1: chip.impedance[0].series_reactance_ohm: 200 must be < 0",
    ],
    [
      '{"chip": {"impedance": [{"parallel_resistance_ohm": 1, "parallel_capacitance_pf": 1}, {"power_dbm": 1, "parallel_resistance_ohm": 1, "parallel_capacitance_pf": 1}]}}',
      "s.json:1: chip.impedance[0]: power_dbm is missing",
    ],
    [
      '{"chip": {"impedance": [{"power_dbm": 1, "parallel_resistance_ohm": 1, "parallel_capacitance_pf": 1},\n {"power_dbm": 0, "parallel_resistance_ohm": 1, "parallel_capacitance_pf": 1}]}}',
      "s.json:2: chip.impedance[1].power_dbm: 0 does not rise",
    ],
    [
      '{"chip": {"impedance": [{"power_dbm": 1, "parallel_resistance_ohm": 1, "parallel_capacitance_pf": 1}, {"power_dbm": 2, "series_resistance_ohm": 1, "series_reactance_ohm": -1, "frequency_mhz": 1}]}}',
      "s.json:1: chip.impedance[1]: all entries must be parallel, or all series",
    ],
    ['{"band": {}}', "s.json:1: band: give either name, or low_mhz and high_mhz"],
    ['{"band": {"low_mhz": 870}}', "s.json:1: band: low_mhz needs high_mhz beside it"],
    ['{"band": {"low_mhz": 870, "high_mhz": 860}}', "s.json:1: band.low_mhz: 870 is not below high_mhz 860"],
    ['{"band": {"low_mhz": 700, "high_mhz": 866}}', "s.json:1: band: 700 to 866 MHz is not inside 820 to 960 MHz"],
    ['{"band": {"low_mhz": 880, "high_mhz": 890}}', "s.json:1: link.region: the band lies in none of"],
    ['{"link": {"region": "us"}}', "s.json:1: link.region: us is 902 to 928 MHz, which the band is not"],
  ])("%s", (text, says) => {
    const { status, says: said } = refused(() => readMatchScenario(file("s.json", text)));
    expect(said).toContain(says);
    expect(status).toBe(2);
  });

  it("all faults of one scenario are told", () => {
    const text = '{\n"tau": 2,\n"chip": {"turn_on": 1}\n}';
    expect(refused(() => readMatchScenario(file("s.json", text))).says.split("\n")).toEqual([
      expect.stringMatching(/s\.json:(2: tau|3: chip)/),
      expect.stringMatching(/^plyframe: s\.json:(2: tau|3: chip)/),
    ]);
  });

  it("a Touchstone file beside the scenario, with a place in it", () => {
    file("a.s1p", "# MHz S RI R 50\n860 0.1 0.1\n850 0.1 0.1\n");
    const scenario = file("s.json", '{"antenna": {"touchstone": "a.s1p"}}');
    expect(refused(() => readMatchScenario(scenario))).toEqual({
      status: 2,
      says: "a.s1p:3: frequency: 850 does not rise above that of line 2",
    });
  });

  it("files that are not there", () => {
    expect(refused(() => readMatchScenario(join(folder, "none.json")))).toEqual({
      status: 3,
      says: "none.json: does not exist",
    });
    const scenario = file("s.json", '{"antenna": {"touchstone": "none.s1p"}}');
    expect(refused(() => readMatchScenario(scenario))).toEqual({ status: 3, says: "none.s1p: does not exist" });
    expect(refused(() => readMatchScenario(folder)).status).toBe(3);
  });
});

describe("turnon", () => {
  it.each([
    ['{"setup": {"cable_loss": 1}}', "write cable_loss_db or cable_loss_standard_db"],
    ['{"setup": {"step_db": -1}}', "setup.step_db: -1 must be >= 0"],
    ['{"region": "mars"}', 'region: "mars" is none of eu_lower, eu_upper, us'],
  ])("%s", (text, says) => {
    expect(refused(() => readTurnOnScenario(file("t.json", text))).says).toContain(says);
  });

  it("a sweep without a column, and a model with a fault", () => {
    file("x.csv", "frequency,reader_power_dbm,distance_m\n865,1,1\n");
    const sweep = file("t.json", '{"sweep": "x.csv"}');
    expect(refused(() => readTurnOnScenario(sweep)).says).toContain("x.csv:1: frequency_mhz: this column is missing");
    file("m.json", '{"tau": 7}');
    const model = file("t.json", '{"model": "m.json"}');
    expect(refused(() => readTurnOnScenario(model)).says).toContain("m.json:1: tau: 7 must be <= 1");
  });
});
