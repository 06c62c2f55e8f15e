/** `plyframe inventory` as a person runs it, against a kit that says what the test has written down. */
import { describe, expect, it } from "vitest";
import { complaints, linesOf, plyframe, start } from "../../support/plyframe.ts";
import { type Scene, ScriptedKit } from "../../support/scripted-kit.ts";

const A = [0x3034, 0x0123, 0x4567];
const B = [0x3034, 0x0123, 0x89ab];

const at = (ms: number, epc: readonly number[], rssiDbm: number) => ({ timeUs: ms * 1000, epc, rssiDbm });

/** A is seen in five of the first seven rounds, B once. */
const SIGHTS = [
  ...[at(0, A, -60), at(50, B, -70.5), at(100, A, -50), at(200, A, -55)],
  ...[at(500, A, -55), at(600, A, -55)],
];

async function inventory(scene: Scene, ...more: string[]) {
  const kit = await new ScriptedKit([scene]).listen();
  const ended = await plyframe(["inventory", "--port", kit.port, ...more]);
  return { kit, ...ended };
}

describe("an inventory", () => {
  it("tells rate, age, misses and strength of every tag", async () => {
    const { status, stdout, stderr } = await inventory({ sights: SIGHTS, ambientUs: 1e6 }, "--for", "1", "--json");
    const common = { record: "tag", uri: null, pc: "1800", xpc: "0000", sensor: [] };
    // A: four intervals in 0.6 s; rounds at 300, 400, 700, 800 and 900 ms went by without it. B: 0.95 s are 9.5 rounds.
    expect(linesOf(stdout).map((line) => JSON.parse(line))).toEqual([
      { ...common, epc: "303401234567", rssi_dbm: -55, rate_per_s: 6.667, age_s: 0.4, seen: 5, missed: 5 },
      { ...common, epc: "3034012389ab", rssi_dbm: -70.5, rate_per_s: null, age_s: 0.95, seen: 1, missed: 9 },
    ]);
    expect([status, stderr]).toEqual([0, "2 tags in 1.0 s of kit time.\n"]);
  });

  it("is a table for people", async () => {
    const { stdout } = await inventory({ sights: SIGHTS, ambientUs: 1e6 }, "--for", "1");
    expect(linesOf(stdout).map((line) => line.split(/ {2,}/))).toEqual([
      ["tag", "PC", "XPC", "sensor", "RSSI", "rate", "age", "seen", "missed"],
      ["303401234567", "1800", "0000", "-", "-55.0 dBm", "6.7/s", "0.4 s", "5", "5"],
      ["3034012389ab", "1800", "0000", "-", "-70.5 dBm", "-", "0.9 s", "1", "9"],
    ]);
  });

  it("counts misses by the period it asked for", async () => {
    const { stdout } = await inventory({ sights: SIGHTS, ambientUs: 1e6 }, "--for", "1", "--period", "200", "--json");
    // A at 0 to 200 in every round, 300 ms later nearer to two rounds than one, and 400 ms of silence at the end.
    expect(JSON.parse(linesOf(stdout)[0]!)).toMatchObject({ missed: 2 });
  });

  it("of a kit that sees nothing comes to its end by the host's clock", async () => {
    const { status, stdout, stderr } = await inventory({}, "--for", "0.3");
    expect([status, stdout, stderr]).toEqual([0, "", "0 tags in 0.3 s of kit time.\n"]);
  });

  it("asks for power, plan and period, and stops the kit at the end", async () => {
    const { kit, status } = await inventory({ ambientUs: 1e6 }, ...["--for", "0.1", "--power", "20", "--plan", "us"]);
    expect(status).toBe(0);
    expect(kit.heard).toEqual(["hello", "set_power", "set_channel_plan", "start_inventory", "stop_inventory"]);
  });

  it("shows what it has when the port is lost", async () => {
    const { status, stdout, stderr } = await inventory({ sights: SIGHTS, cutAfter: "start_inventory" }, "--json");
    expect(linesOf(stdout)).toHaveLength(2);
    expect(stderr).toMatch(/2 tags in 0\.6 s of kit time\.\nplyframe: lost tcp:127\.0\.0\.1:\d+: .*\n$/);
    expect(status).toBe(3);
  });

  it("stopped by Ctrl-C is no error", async () => {
    const kit = await new ScriptedKit([{ sights: SIGHTS }]).listen();
    const running = start(["inventory", "--port", kit.port, "--for", "1000"]);
    await expect.poll(() => kit.heard.includes("start_inventory")).toBe(true);
    running.stop("SIGINT");
    const ended = await running.ended;
    expect([ended.status, complaints(ended)]).toEqual([0, []]);
  });
});

describe("wrong use of inventory, and kits that refuse", () => {
  it.each([
    [{}, ["--for", "0"], 2, "--for"],
    [{}, ["--period", "9"], 2, "--period"],
    [{}, ["--power", "39"], 2, "--power 39: this kit transmits at 10 to 30 dBm"],
    [{ refuses: ["set_channel_plan"] }, ["--plan", "us"], 3, "the reader refused set_channel_plan"],
    [{ refuses: ["hello"] }, [], 3, "the reader refused hello"],
    [{ refuses: ["start_inventory"] }, [], 3, "the reader refused start_inventory"],
  ] as const)("%j %j is status %i", async (scene, words, expected, says) => {
    const { status, stderr, stdout } = await inventory(scene, ...words);
    expect(stderr).toContain(says);
    expect([status, stdout]).toEqual([expected, ""]);
  });
});
