/** Ctrl-C ends a session as it should end: everything written, status 0. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { needs } from "../../support/outside.ts";
import {
  complaints,
  execKit,
  linesOf,
  PROGRAM,
  plyframe,
  start,
  startProgram,
  tcpKit,
  testFolder,
} from "../../support/plyframe.ts";

describe("a session that is stopped", () => {
  it.each(["SIGINT", "SIGTERM"] as const)("by %s leaves a complete capture", async (signal) => {
    const { port } = await tcpKit("--speed", "4");
    const capture = join(testFolder(), "leg.jsonl");
    const reading = start(["read", "--json", "--port", port, "--capture", capture]);
    await reading.said(/"sequence":3/);
    reading.child.kill(signal);
    const ended = await reading.ended;
    expect(complaints(ended)).toEqual([]);
    expect(ended.status).toBe(0);
    expect(ended.stderr).toMatch(/\d+ reads: \d+ readings/);
    const again = await plyframe(["decode", "--json", capture]);
    expect([again.status, linesOf(again.stdout)]).toEqual([0, linesOf(ended.stdout)]);
  });

  needs("script", () => {
    it("by Ctrl-C on a terminal, which an exec: kit hears too, is not a lost port", async () => {
      const folder = testFolder();
      const command = `exec '${process.execPath}' '${PROGRAM}' read --port '${execKit("--speed 4")}' --capture leg.jsonl`;
      // The shell gives way to the program: some shells die of the Ctrl-C that they share with it.
      const terminal = startProgram("script", ["-qec", command, "/dev/null"], { cwd: folder });
      await terminal.said(/good/);
      terminal.child.stdin.write("\u0003");
      const { stdout, status } = await terminal.ended;
      expect(status).toBe(0);
      expect(stdout).toMatch(/\d+ reads: \d+ readings/);
      expect(stdout).not.toContain("lost exec:");
      expect((await plyframe(["decode", join(folder, "leg.jsonl")])).status).toBe(0);
    });
  });
});
