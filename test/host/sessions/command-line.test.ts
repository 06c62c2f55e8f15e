/** The compiled program's session, report, export, campaign and laplace commands, run as a person would run them. */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { EXAMPLE_SESSION } from "../../support/example-session.ts";
import { complaints, linesOf, plyframe, testFolder } from "../../support/plyframe.ts";
import { capture, sessionFile, stretch } from "./story.ts";

/** A folder with a session and its capture; the session's path. */
function put(changes: Parameters<typeof sessionFile>[0] = {}, text = capture([{ samples: stretch(0, 30, () => 40) }])) {
  const folder = testFolder();
  writeFileSync(join(folder, "a.jsonl"), text);
  const file = join(folder, "walk.json");
  writeFileSync(file, JSON.stringify(sessionFile(changes)));
  return { folder, file };
}

describe("plyframe session", () => {
  it("prints the sites on stdout and the cautions on stderr", async () => {
    const { status, stdout, stderr } = await plyframe(["session", EXAMPLE_SESSION]);
    expect(status).toBe(0);
    expect(stdout).toMatch(/^B1 +1 +\d+\.\d ± 0\.\d/m);
    expect(stdout).toContain("(invented)");
    expect(stderr).toContain("not a medical device");
  });

  it("--json writes JSON lines only", async () => {
    const { status, stdout } = await plyframe(["session", "--json", EXAMPLE_SESSION]);
    const records = linesOf(stdout).map((line) => JSON.parse(line).record);
    expect(status).toBe(0);
    expect(records).toEqual(["session", "site", "site", "site", "site", "gradient", "gradient", "agreement"]);
  });

  it("a file that does not exist: status 3; a capture that does not: the same, named", async () => {
    const missing = await plyframe(["session", "nowhere.json"]);
    expect([missing.status, complaints(missing)]).toEqual([3, ["plyframe: nowhere.json: does not exist"]]);
    const { file } = put({ captures: [{ file: "b.jsonl" }] });
    const capture = await plyframe(["session", file]);
    expect([capture.status, complaints(capture)]).toEqual([3, [`plyframe: ${file}: b.jsonl: does not exist`]]);
    const { file: folder } = put({ captures: [{ file: "." }] });
    expect(complaints(await plyframe(["session", folder]))[0]).toContain("is a folder, not a file");
  });

  it("a session file with faults: each named, status 1", async () => {
    const { file } = put({ subject: { id: "Marie Mustermann" }, tags: [] });
    writeFileSync(file, JSON.stringify(sessionFile({ subject: { id: "Marie Mustermann" } })));
    const named = await plyframe(["session", file]);
    expect(named.status).toBe(1);
    expect(complaints(named)[0]).toContain("/subject/id looks like a name");
    writeFileSync(file, "{");
    expect(complaints(await plyframe(["session", file]))[0]).toContain("not JSON");
  });

  it("bad lines in a capture: status 1, the rest is worked out", async () => {
    const { file } = put({}, `${capture([{ samples: stretch(0, 30, () => 40) }])}oops\n`);
    const result = await plyframe(["session", file]);
    expect(result.status).toBe(1);
    expect(result.stdout).toMatch(/^B1 .*40\.0 ± 0\.5/m);
  });
});

describe("plyframe report", () => {
  it("writes the page to a file or to stdout, the same", async () => {
    const { folder, file } = put();
    const out = join(folder, "report.html");
    expect((await plyframe(["report", file, "--out", out])).status).toBe(0);
    const { stdout } = await plyframe(["report", file]);
    expect(readFileSync(out, "utf8").trimEnd()).toBe(stdout.trimEnd());
    expect(stdout).toMatch(/^<!doctype html>/);
  });

  it("does not overwrite the session file", async () => {
    const { file } = put();
    const result = await plyframe(["report", file, "--out", file]);
    expect(result.status).toBe(2);
    expect(JSON.parse(readFileSync(file, "utf8")).record).toBe("session");
  });
});

describe("plyframe export", () => {
  it("csv: a heading and a row a frame", async () => {
    const { file } = put();
    const { status, stdout } = await plyframe(["export", file]);
    expect(status).toBe(0);
    expect(linesOf(stdout)).toHaveLength(61);
  });

  it("parquet: folders by day and tag, and never into a folder with something in it", async () => {
    const { folder, file } = put();
    const out = join(folder, "campaign");
    expect((await plyframe(["export", "--format", "parquet", "--out", out, file])).status).toBe(0);
    expect(readdirSync(join(out, "day=2026-03-04", "tag=30361f9404c0004000000007"))).toEqual(["part-0.parquet"]);
    const again = await plyframe(["export", "--format", "parquet", "--out", out, file]);
    expect([again.status, complaints(again)]).toEqual([2, [`plyframe: --out ${out}: the folder is not empty`]]);
    expect((await plyframe(["export", "--format", "parquet", file])).status).toBe(2);
    mkdirSync(join(folder, "free"));
    expect((await plyframe(["export", "--format", "parquet", "--out", join(folder, "free"), file])).status).toBe(0);
  });

  it("fhir: a bundle", async () => {
    const { file } = put();
    const { stdout } = await plyframe(["export", "--format", "fhir", file]);
    expect(JSON.parse(stdout)).toMatchObject({ resourceType: "Bundle", type: "collection" });
  });
});

describe("plyframe campaign", () => {
  it("goes on without the session files that cannot be used, names them and counts one given twice once", async () => {
    const { file } = put();
    const result = await plyframe(["campaign", "nowhere.json", file, file]);
    expect(result.status).toBe(3);
    expect(result.stdout).toContain("1 session of 1 subject");
    expect(complaints(result)).toEqual([
      `plyframe: ${file}: given twice; counted once`,
      "plyframe: nowhere.json: does not exist",
    ]);
  });

  it("--json writes JSON lines only", async () => {
    const { stdout } = await plyframe(["campaign", "--json", EXAMPLE_SESSION]);
    const records = linesOf(stdout).map((line) => JSON.parse(line).record);
    expect(new Set(records)).toEqual(new Set(["campaign", "posture", "stiffness", "missing", "device", "agreement"]));
  });
});

describe("plyframe laplace", () => {
  const shape = ["--circumference", "25cm", "--width", "10cm", "--layers", "2"];

  it("gives the estimate in both forms with its limits, whatever the units", async () => {
    const kgf = await plyframe(["laplace", "--tension", "1kgf", ...shape, "--thickness", "1.5mm"]);
    expect(kgf.status).toBe(0);
    expect(kgf.stdout).toContain("with constant 4620    37.0 mmHg");
    expect(kgf.stdout).toContain("thick form");
    expect(kgf.stdout).toContain("not a measurement");
    const metre = await plyframe([
      "laplace",
      "--json",
      "--tension",
      "9.80665 N",
      "--layers",
      "2",
      "--circumference",
      "250mm",
      "--width",
      "0.1m",
    ]);
    expect(JSON.parse(metre.stdout).published_mmhg).toBeCloseTo(36.96, 6);
  });

  it.each([
    [["--tension", "1"], "--tension 1: give a positive number with its unit (N, kgf, gf)"],
    [["--tension", "1cm"], "--tension 1cm: give a positive number with its unit (N, kgf, gf)"],
    [["--tension", "-1N"], "--tension -1N: give a positive number with its unit (N, kgf, gf)"],
    [["--tension", "0N"], "--tension 0N: give a positive number with its unit (N, kgf, gf)"],
    [["--tension", "1toString"], "--tension 1toString: give a positive number with its unit (N, kgf, gf)"],
    [["--tension", "1N", "--pressure", "40mmHg"], "give either --tension or --pressure"],
    [[], "give either --tension or --pressure"],
    [["--tension", "1N", "--layers", "1.5"], "--layers 1.5: give a whole number"],
  ])("%j is wrong use", async (words, sentence) => {
    const result = await plyframe(["laplace", ...shape, ...words]);
    expect([result.status, complaints(result)]).toEqual([2, [`plyframe: ${sentence}`]]);
  });
});
