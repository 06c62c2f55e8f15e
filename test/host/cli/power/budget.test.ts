import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { plyframe, testFolder } from "../../../support/plyframe.ts";

const refused = async (scenario: string, folder = testFolder()) => {
  const file = join(folder, "s.json");
  writeFileSync(file, scenario);
  const { status, stdout, stderr } = await plyframe(["budget", file]);
  expect([status, stdout]).toEqual([2, ""]);
  return stderr.replaceAll(folder, "");
};

describe("plyframe budget", () => {
  it("refuses a scenario with a sentence, the line and the field", async () => {
    const cases: [scenario: string, says: string][] = [
      [
        '{\n"supervisor": {\n"on_v": 1.5 } }',
        "plyframe: /s.json:2: supervisor.off_v: 1.7 V must be below supervisor.on_v, which is 1.5 V",
      ],
      [
        '{"store": {\n"capacitance": 47}}',
        "plyframe: /s.json:2: store.capacitance: the unit is missing from the name: write capacitance_uf",
      ],
      ['{"store": {"capacitance_uf": -47}}', "plyframe: /s.json:1: store.capacitance_uf: -47 must be >= 0.001"],
      ['{"store": {"capacitance_uf": "47"}}', 'plyframe: /s.json:1: store.capacitance_uf: give a number, not "47"'],
      ['{"sensor": {"conversoin_ms": 5}}', "plyframe: /s.json:1: sensor.conversoin_ms: not known here"],
      ['{"rectifier": {"table": []}}', "plyframe: /s.json:1: rectifier.table: give at least 1 of them"],
      ["{", "plyframe: /s.json:1: not JSON"],
    ];
    const found = await Promise.all(cases.map(([scenario]) => refused(scenario)));
    found.forEach((stderr, i) => {
      expect(stderr).toContain(cases[i]![1]);
    });
  });

  it("reads a rectifier's table from a file beside the scenario, and names line and column of what is wrong in it", async () => {
    const folder = testFolder();
    const table = (text: string) => writeFileSync(join(folder, "r.csv"), text);
    const scenario = '{"rectifier": {"file": "r.csv"}}';
    table("# invented\npower_dbm,efficiency_percent\n-10,forty\n");
    expect(await refused(scenario, folder)).toContain('/r.csv:3: efficiency_percent: "forty" is no number');
    table("power_dbm,efficiency\n-10,40\n");
    expect(await refused(scenario, folder)).toContain("/r.csv:1: the column efficiency_percent is missing");
    table("power_dbm,efficiency_percent\n-10,140\n");
    expect(await refused(scenario, folder)).toContain("/r.csv:2: efficiency_percent: 140 is outside 0 to 100");
    table("power_dbm,efficiency_percent\n-10,0\n");
    const { status, stdout } = await plyframe(["budget", "--json", join(folder, "s.json")]);
    expect(status).toBe(0);
    expect(JSON.parse(stdout).answers[0].never).toContain("never comes to the supervisor's 2.4 V");
  });

  it("answers as one JSON line and draws, with no arguments but the files", async () => {
    const cwd = testFolder();
    const words = [
      "--json",
      "--voltage-plot",
      "v.svg",
      "--rate-plot",
      "r.png",
      "--tornado-plot",
      "t.svg",
      "--of",
      "capacitor",
    ];
    const { status, stdout, stderr } = await plyframe(["budget", ...words], { cwd });
    expect(status).toBe(0);
    expect(stderr).toBe("The plot is in v.svg\nThe plot is in r.png\nThe plot is in t.svg\n");
    const found = JSON.parse(stdout);
    expect(found.answers.map(({ id }: { id: string }) => id)).toEqual([
      "first_frame_s",
      "rate_per_s",
      "least_capacitor_uf",
      "brown_outs_per_minute",
    ]);
    for (const { value } of found.answers) expect(value).toBeGreaterThanOrEqual(0);
    const rates = found.rates.map(({ rate_per_s }: { rate_per_s: number }) => rate_per_s);
    expect(rates.at(-1)).toBeGreaterThan(rates[0]);
    expect(found.assumed.every(({ standing }: { standing: string }) => standing)).toBe(true);
    expect(readFileSync(join(cwd, "v.svg"), "utf8")).toContain("supervisor on");
    expect(readFileSync(join(cwd, "t.svg"), "utf8")).toContain("least capacitor");
    expect(readFileSync(join(cwd, "r.png")).subarray(1, 4).toString()).toBe("PNG");
  });

  it("refuses an answer that there is not", async () => {
    const { status, stderr } = await plyframe(["budget", "--of", "luck"]);
    expect([status, stderr]).toEqual([2, "plyframe: --of luck: there are first-frame, rate, capacitor, losses\n"]);
  });
});
