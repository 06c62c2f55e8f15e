/** `plyframe match` and `plyframe turnon` as a person runs them. */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { complaints, linesOf, plyframe, testFolder } from "../../../support/plyframe.ts";

const json = ({ stdout }: { stdout: string }) => linesOf(stdout).map((line) => JSON.parse(line));

/** The published pair of test/outside/match.test.ts, which needs no inductor; its antenna is the same at both ends. */
const published = {
  title: "Published pair",
  antenna: {
    table: [
      { frequency_mhz: 800, resistance_ohm: 12.4, reactance_ohm: 128.4 },
      { frequency_mhz: 1000, resistance_ohm: 12.4, reactance_ohm: 128.4 },
    ],
  },
  chip: { impedance: [{ series_resistance_ohm: 14.8, series_reactance_ohm: -127.1, frequency_mhz: 866.5 }] },
  band: { low_mhz: 866.4, high_mhz: 866.6 },
};

describe("match", () => {
  it("runs without arguments, and says of every value that rests on memory or invention that it does", async () => {
    const { status, stdout, stderr } = await plyframe(["match"]);
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toMatch(/nH .* chosen/);
    const schema = JSON.parse(readFileSync("vectors/schema/match.schema.json", "utf8"));
    const resting: string[] = [];
    const walk = (node: Record<string, never>, path: string) => {
      for (const [name, member] of Object.entries<never>(node.properties ?? {})) {
        if (member["x-standing"]) resting.push(`${path}${name}`);
        else walk(member, `${path}${name}.`);
      }
    };
    walk(schema, "");
    expect(resting.length).toBeGreaterThan(15);
    for (const path of resting) expect(stdout).toContain(`  ${path} `);
    expect(stdout).toContain("vectors/examples/tag-antenna.s1p: invented");
  });

  it("finds that a published pair matches as it is, read from standard input", async () => {
    const [result] = json(await plyframe(["match", "--json", "-"], { input: JSON.stringify(published) }));
    expect(result.inductor_nh).toBeNull();
    const bare = result.candidates.find(({ inductor_nh }: { inductor_nh: number | null }) => inductor_nh === null);
    expect(bare.best_tau).toBeCloseTo(0.98995, 3);
    const paths = result.assumed.map(({ path }: { path: string }) => path);
    expect(paths).not.toContain("chip.impedance");
    expect(paths).toContain("chip.turn_on_dbm");
  });

  it("gives the same result for the same seed", async () => {
    const runs = await Promise.all([plyframe(["match", "--json"]), plyframe(["match", "--json"])]);
    expect(runs[0]!.stdout).toBe(runs[1]!.stdout);
  });

  it("warns of too much power, and of distances in the near field", async () => {
    const link = { conducted_dbm: 33, antenna_gain_dbi: 9, distance_m: 0.1 };
    const loud = await plyframe(["match", "-"], { input: JSON.stringify({ link }) });
    expect(loud.stdout).toContain("this radiates 5.8 dB more than the limit");
    expect(loud.stdout).toContain("these far-field sums do not hold");
    const us = await plyframe(["match", "-"], {
      input: JSON.stringify({ band: { name: "us" }, link: { conducted_dbm: 31, antenna_gain_dbi: 0 } }),
    });
    expect(us.stdout).toContain("31 dBm into the antenna is more than 1 W");
  });

  it("draws both plots, by the end of the name", async () => {
    const cwd = testFolder();
    const { status, stderr } = await plyframe(["match", "--tau-plot", "t.svg", "--distance-plot", "d.png"], { cwd });
    expect([status, linesOf(stderr)]).toEqual([0, ["The plot is in t.svg", "The plot is in d.png"]]);
    const svg = readFileSync(join(cwd, "t.svg"), "utf8");
    expect(svg).toMatch(/^<svg .*<\/svg>$/s);
    for (const text of ["frequency in MHz", "band", "without an inductor"]) expect(svg).toContain(text);
    const png = readFileSync(join(cwd, "d.png"));
    expect([...png.subarray(0, 4)]).toEqual([0x89, 0x50, 0x4e, 0x47]);
    expect(png.length).toBeGreaterThan(10_000);
  });

  it.each([
    ["t.gif", 2, "plyframe: --tau-plot t.gif: give a name that ends in .svg or .png"],
    ["none/t.svg", 3, "plyframe: none/t.svg: does not exist"],
  ])("a plot it cannot write: %s", async (name, expected, says) => {
    const cwd = testFolder();
    const ended = await plyframe(["match", "--tau-plot", name], { cwd });
    expect([ended.status, complaints(ended)]).toEqual([expected, [says]]);
    expect(existsSync(join(cwd, name))).toBe(false);
  });
});

describe("turnon", () => {
  it("runs without arguments", async () => {
    const { status, stdout, stderr } = await plyframe(["turnon"]);
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toContain("vectors/examples/turn-on.csv: invented");
  });

  it("leaves bad rows out, names and counts them, and goes on", async () => {
    const cwd = testFolder();
    const sweep = "frequency_mhz,reader_power_dbm,distance_m\n865,20,0.5\n866,loud,0.5\n867,20,-1\n868,21,0.5\n";
    writeFileSync(join(cwd, "x.csv"), sweep);
    const ended = await plyframe(["turnon", "--json", "--plot", "g.svg", "-"], { cwd, input: '{"sweep": "x.csv"}' });
    expect(ended.status).toBe(1);
    expect(linesOf(ended.stderr)).toEqual([
      'plyframe: x.csv:3: reader_power_dbm: "loud" is no number',
      "plyframe: x.csv:4: distance_m: -1 must be above 0",
      "4 rows: 2 used, 2 left out.",
      "The plot is in g.svg",
    ]);
    const lines = json(ended);
    expect(lines.map(({ record, line }) => line ?? record)).toEqual([2, 5, "summary"]);
    expect(lines.at(-1)).toMatchObject({ rows: 2, left_out: 2 });
    expect(readFileSync(join(cwd, "g.svg"), "utf8")).toContain("realised gain in dBi");
  });

  it("agrees with the model when the sweep was made with it", async () => {
    const cwd = testFolder();
    const model = { ...published, link: { layers: [], tag_gain_dbi: -12 } };
    writeFileSync(join(cwd, "m.json"), JSON.stringify(model));
    // Reader power by hand: -8 dBm + 12 dB - 10 log10 0.98995 + 31.2032 dB of 1 m + 3.01 - 6 + 1 dB.
    const power = -8 + 12 + 0.04387 + 31.2032 + 3.01 - 6 + 1;
    writeFileSync(join(cwd, "x.csv"), `frequency_mhz,reader_power_dbm,distance_m\n866.5,${power},1\n`);
    const scenario = { sweep: "x.csv", model: "m.json", setup: { step_db: 0 } };
    const [row, summary] = json(await plyframe(["turnon", "--json", "-"], { cwd, input: JSON.stringify(scenario) }));
    expect(row.realised_gain_dbi).toBeCloseTo(-12.0439, 3);
    expect(summary.comparison.mean_db).toBeCloseTo(0, 3);
    // 35.159 dBm of 2 W ERP against what was radiated: 33.257 - 1 + 6 dBm over 1 m.
    expect(row.range_m).toBeCloseTo(10 ** ((35.1587 - (power + 5)) / 20), 3);
  });
});
