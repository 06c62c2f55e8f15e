/** Options and arguments that make no sense: status 2, one sentence, nothing on stdout. */
import { describe, expect, it } from "vitest";
import { LEG, linesOf, plyframe } from "../../support/plyframe.ts";

const PORT = ["read", "--port", "tcp:127.0.0.1:1"];

const wrong: readonly (readonly [readonly string[], string])[] = [
  [["decode", "--sight", LEG], "unknown option '--sight'"],
  [["decode"], "missing required argument 'file'"],
  [["dekode", LEG], "unknown command 'dekode'"],
  [["read"], "give --port (a reader kit) or --llrp (an LLRP reader), one of the two"],
  [["decode", "--ambient", "sunny", LEG], "--ambient sunny: give"],
  [["decode", "--ambient", "1013", LEG], "--ambient 1013: give"],
  [["decode", "--ambient", "tag:30zz", LEG], "--ambient tag:30zz: give"],
  [["decode", "--ambient", "12hPa", LEG], "--ambient 12hPa: an ambient pressure lies between 260 and 1260 hPa"],
  [["decode", "--site", "B1", LEG], "--site B1: give EPC=name"],
  [["decode", "--site", "30=B1", LEG], "--site 30=B1: give EPC=name"],
  [[...PORT, "--for", "soon"], "--for soon: give a number"],
  [[...PORT, "--for", "-1"], "--for -1: give a number"],
  [[...PORT, "--period", "1"], "--period 1: give a number from 10"],
  [[...PORT, "--power", "loud"], "--power loud: give a number"],
  [[...PORT, "--plan", "moon"], "argument 'moon' is invalid"],
  [["kit", "--scenario", "no-leg"], "--scenario no-leg: there are training-leg"],
  [["kit", "--seed", "1.5"], "--seed 1.5: give a whole number"],
  [["kit", "--speed", "0"], "--speed 0: give a number"],
  [["kit", "--listen", "here"], "--listen here: give tcp:host:port"],
  [["kit", "--listen", "tcp:127.0.0.1:70000"], "--listen tcp:127.0.0.1:70000: a port is at most 65535"],
  [["kit", "--listen", "tcp:127.0.0.1:0", "--port", "x"], "--listen and --port"],
  [["demo", "--speed", "fast"], "--speed fast: give a number"],
  [["layout", "nothing"], "no bank or record is called nothing"],
  [["explain", "--as", "nothing", "00"], "--as: no record is called nothing"],
  [["explain", "--word", "9", "2101"], "--word 9: no region of USER starts there"],
];

describe("wrong use", () => {
  it.each(wrong)("%j", async (words, says) => {
    const { status, stdout, stderr } = await plyframe(words);
    expect(stderr).toContain(says);
    expect(linesOf(stderr).filter((line) => !line.startsWith("(")).length).toBe(1);
    expect([status, stdout]).toEqual([2, ""]);
  });

  it("of nothing at all shows what there is", async () => {
    const { status, stdout, stderr } = await plyframe([]);
    expect(stderr).toContain("Usage: plyframe");
    expect([status, stdout]).toEqual([2, ""]);
  });
});

describe("sites", () => {
  it("may be named before the file and more than once", async () => {
    const names = ["--site", "3066c4409047e14000004b01=ankle", "--site", "3066C4409047E14000004B02=calf"];
    const { status, stdout } = await plyframe(["decode", ...names, LEG]);
    expect(status).toBe(0);
    for (const name of ["ankle", "calf", "…00004b03"]) expect(stdout).toContain(`  ${name} `);
  });
});
