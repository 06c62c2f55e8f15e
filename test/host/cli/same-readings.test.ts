/** The main promise: what was shown live is what decode makes of the capture, whatever the port. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { needs } from "../../support/outside.ts";
import { execKit, linesOf, plyframe, start, tcpKit, testFolder } from "../../support/plyframe.ts";
import { openPtyPair } from "../../support/pty-pair.ts";

/** Live readings over a port and those of its capture, compared line by line. */
async function expectSame(port: string, seconds: string) {
  const capture = join(testFolder(), "leg.jsonl");
  const live = await plyframe(["read", "--json", "--port", port, "--for", seconds, "--capture", capture]);
  expect(live.stderr).not.toContain("plyframe: ");
  expect(live.status).toBe(0);
  const again = await plyframe(["decode", "--json", capture]);
  expect([again.status, linesOf(again.stdout)]).toEqual([0, linesOf(live.stdout)]);
  const readings = linesOf(live.stdout).map((line) => JSON.parse(line));
  expect(new Set(readings.map(({ epc }) => epc)).size).toBe(4);
  expect(readings.some(({ expanded_uncertainty_mmhg: u }) => u !== null)).toBe(true);
}

describe("the same readings live and from the capture", () => {
  it("demo, which ends by itself", async () => {
    const folder = testFolder();
    const live = await plyframe(["demo", "--json", "--speed", "20"], { cwd: folder });
    expect(live.status).toBe(0);
    const again = await plyframe(["decode", "--json", "plyframe-demo.jsonl"], { cwd: folder });
    const [shown, decoded] = [linesOf(live.stdout), linesOf(again.stdout)];
    expect(shown.length).toBeGreaterThan(1000);
    expect(decoded.length).toBe(shown.length);
    decoded.forEach((line, i) => {
      expect(line).toBe(shown[i]);
    });
    expect(again.status).toBe(0);
    // A capture is passed on to others: it must not tell where it was made.
    expect(readFileSync(join(folder, "plyframe-demo.jsonl"), "utf8").split("\n")[0]).not.toContain(process.execPath);
  });

  it("tcp:", async () => expectSame((await tcpKit("--speed", "4")).port, "5"));

  it("exec:", async () => expectSame(execKit("--speed 4"), "5"));

  needs("socat", () => {
    it("a serial device, the kit as a process on the other end of the cable", async () => {
      const cable = await openPtyPair();
      onTestFinished(() => cable.pull());
      const kit = start(["kit", "--port", cable.far, "--speed", "4"]);
      await kit.said(/on /);
      await expectSame(cable.near, "5");
    });
  });
});

describe("a link log", () => {
  it("played again as file: gives the reports of the inventory again", async () => {
    const folder = testFolder();
    const at = (name: string) => join(folder, name);
    const files = ["--link-log", at("link"), "--capture", at("live.jsonl")];
    const live = await plyframe(["read", "--port", execKit("--speed 4"), "--for", "4", ...files]);
    expect(live.status).toBe(0);
    const replay = await plyframe(["read", "--json", "--port", `file:${at("link")}`, "--capture", at("again.jsonl")]);
    expect(replay.status).toBe(0);
    // Answers to requests do not say what was asked, so they are not in a replay.
    const reports = (name: string) =>
      linesOf(readFileSync(at(name), "utf8"))
        .slice(1)
        .filter((line) => line.includes('"ambient"') || line.includes('"word":0,'));
    const [shown, played] = [reports("live.jsonl"), reports("again.jsonl")];
    expect(shown.length).toBeGreaterThan(50);
    // The log also has what was on its way when the session ended.
    expect(played.slice(0, shown.length)).toEqual(shown);
  });

  it("ends after --for seconds of its own time, though its clock did not begin at zero", async () => {
    const log = join(testFolder(), "link");
    const { port } = await tcpKit("--speed", "10");
    await plyframe(["read", "--port", port, "--for", "8", "--link-log", log]);
    const replay = await plyframe(["read", "--json", "--port", `file:${log}`]);
    expect(linesOf(replay.stdout).length).toBeGreaterThan(100);
    expect(replay.status).toBe(0);
  });
});
