/** Every form of a result, read by something that did not write it. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseHTML } from "linkedom";
import { describe, expect, it, onTestFinished } from "vitest";
import { resultHtml } from "../../../host/replay/result-html.ts";
import { resultRecords } from "../../../host/replay/result-json.ts";
import { resultJunit } from "../../../host/replay/result-junit.ts";
import { resultTap } from "../../../host/replay/result-tap.ts";
import { needs } from "../../support/outside.ts";
import { JUNIT_SCHEMA } from "./junit-schema.ts";
import { HOSTILE, result } from "./result.ts";
import { readTap } from "./tap.ts";

describe("JSON lines", () => {
  const records = resultRecords(result) as { readonly [member: string]: unknown }[];

  it("carry the run, every case, and the totals", () => {
    expect(records.map(({ record }) => record)).toEqual(
      "replay case case case case round round complaint group group group total".split(" "),
    );
    expect(records[0]).toMatchObject({
      vectors_version: "1.2.3",
      vectors_sha256: "ab".repeat(32),
      fingerprint: "028961a7",
      places_judged: false,
    });
    expect(records[1]).toEqual({
      record: "case",
      id: "right",
      group: "frames",
      result: "right",
      level: null,
      listed: false,
    });
    expect(records[2]).toMatchObject({
      result: "wrong",
      request: "decode record=frame bytes=21",
      expected: "good sequence=7",
      came: "good sequence=<8>",
      field: "frame.sequence",
      specification: "protocol/MEMORY-MAP.md#frame-sequence",
    });
    expect(records[3]).toMatchObject({ result: "lost", came: null, lost: { loss: "silent" } });
    expect(records.at(-1)).toMatchObject({
      good: false,
      asked: 108,
      right: 104,
      must: 3,
      listed: 1,
      undeclared: 5,
      complaints: 1,
      restarts: 1,
    });
  });
});

describe("TAP", () => {
  const tap = readTap(resultTap(result));

  it("has as many tests as it plans, numbered one after the other", () => {
    expect(tap.version).toBe(13);
    expect(tap.tests.map(({ number }) => number)).toEqual(Array.from({ length: tap.plan }, (_, i) => i + 1));
    expect(tap.plan).toBe(7);
  });

  it("tells what failed, what was expected to, and why", () => {
    expect(tap.tests.map(({ ok, todo }) => [ok, todo])).toEqual([
      [true, false],
      [false, false],
      [false, false],
      [false, true],
      [true, false],
      [false, false],
      [false, false],
    ]);
    expect(tap.tests[1]!.yaml).toMatchObject({
      level: "must",
      message: "sequence: expected 7, came <8>",
      field: "frame.sequence",
    });
    expect(tap.tests[2]!.yaml).toMatchObject({ message: "silent: no answer within 5 s", came: "nothing" });
    expect(tap.tests[5]!.yaml.again).toMatch(/--path 3/);
    expect(tap.tests[6]!.yaml.message).toContain(HOSTILE);
  });
});

describe("JUnit XML", () => {
  const xml = resultJunit(result);

  needs("xmllint", () => {
    const ask = (...words: string[]) => spawnSync("xmllint", [...words, "-"], { input: xml, encoding: "utf8" });

    it("is well-formed", () => expect(ask("--noout")).toMatchObject({ status: 0, stderr: "" }));

    it("has the structure servers read, by its schema", () => {
      const folder = mkdtempSync(join(tmpdir(), "plyframe-xsd-"));
      onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
      writeFileSync(join(folder, "junit.xsd"), JUNIT_SCHEMA);
      expect(ask("--noout", "--schema", join(folder, "junit.xsd"))).toMatchObject({ status: 0 });
    });

    it.each([
      ["count(//testcase)", "7"],
      ["count(//failure)", "4"],
      ["count(//skipped)", "1"],
      ["sum(//testsuite/@tests)", "7"],
      ["sum(//testsuite/@failures)", "4"],
      ["string(/testsuites/@tests)", "7"],
      ["string(/testsuites/@failures)", "4"],
      ["sum(//testsuite/@skipped)", "1"],
      ["string(//testcase[@name='wrong']/failure/@message)", "sequence: expected 7, came <8>"],
      ["string(//testcase[@name='wrong']/failure/@type)", "must"],
      ["string(//property[@name='vectors-sha256']/@value)", "ab".repeat(32)],
      ["count(//script)", "0"],
    ])("%s is %s", (path, expected) => expect(ask("--xpath", path).stdout.trim()).toBe(expected));
  });
});

describe("the page", () => {
  const html = resultHtml(result, "../protocol/MEMORY-MAP.md");
  const { document } = parseHTML(html);

  it("loads nothing and runs nothing", () => {
    expect(document.querySelectorAll("script, link, img, iframe, object, embed, form").length).toBe(0);
    expect(html).not.toMatch(/https?:|url\(|@import|\son[a-z]+=/);
    expect(document.querySelector("meta[http-equiv]")!.getAttribute("content")).toMatch(/default-src 'none'/);
  });

  it("has a language, a title, one first heading, and heads of rows and columns", () => {
    expect(document.documentElement.getAttribute("lang")).toBe("en");
    expect(document.title).toMatch(/^Replay of reader .*: 3 wrong$/);
    expect(document.querySelectorAll("h1").length).toBe(1);
    expect(document.querySelectorAll("main table thead th[scope=col]").length).toBe(7);
    expect(document.querySelectorAll("main table tbody th[scope=row]").length).toBe(4);
  });

  it("shows every failure under its field, with the way to the memory map", () => {
    const sections = [...document.querySelectorAll("section")].map((section) => [
      section.querySelector("h3")!.textContent,
      section.querySelector("a")!.getAttribute("href"),
      section.querySelectorAll("article").length,
    ]);
    expect(sections).toEqual([
      ["frame 1", "../protocol/MEMORY-MAP.md#record-frame", 1],
      ["frame.seal 1", "../protocol/MEMORY-MAP.md#frame-seal", 1],
      ["frame.sequence 1", "../protocol/MEMORY-MAP.md#frame-sequence", 1],
    ]);
    expect(document.body.textContent).toContain("good sequence=<8>");
    expect(document.body.textContent).toContain("known");
    expect(document.body.textContent).toContain("--add made-slots-7-3 slots bytes=00");
  });

  it("changes its colours in the dark and on paper", () => {
    expect(html).toMatch(/prefers-color-scheme: dark/);
    expect(html).toMatch(/@media print/);
  });
});
