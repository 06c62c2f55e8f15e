/** What goes where: results on stdout, messages on stderr, colour on a terminal only. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import formats from "ajv-formats";
import { describe, expect, it } from "vitest";
import { needs } from "../../support/outside.ts";
import {
  execKit,
  LEG,
  legLines,
  linesOf,
  PROGRAM,
  plyframe,
  startProgram,
  testFolder,
} from "../../support/plyframe.ts";
import { readSchema } from "../../support/vectors.ts";
import { burst } from "../readings/tag-words.ts";

const ajv = new Ajv2020({ allowUnionTypes: true });
(formats as unknown as (target: Ajv2020) => void)(ajv);
const isReading = ajv.compile(readSchema("reading.schema.json"));
const isRecord = ajv.compile(readSchema("capture.schema.json"));

const ESCAPE = "\u001b[";

function sh(command: string, env: { [name: string]: string } = {}) {
  const set = { ...env, PLYFRAME: `${process.execPath} ${PROGRAM}` };
  return startProgram("sh", ["-c", command], { input: "", env: set }).ended;
}

describe("stdout", () => {
  it.each([
    ["decode", ["decode", "--json", LEG]],
    ["read", ["read", "--json", "--for", "3", "--port", execKit("--speed 10")]],
  ])("of %s --json is JSON lines that fit the schema of readings", async (_, words) => {
    const { stdout } = await plyframe(words);
    const lines = linesOf(stdout);
    expect(lines.length).toBeGreaterThan(50);
    for (const line of lines)
      expect(isReading(JSON.parse(line)), `${line} ${JSON.stringify(isReading.errors)}`).toBe(true);
  });

  it("of decode --json has waveforms that fit it too", async () => {
    const samples = Buffer.from(burst({ samples: [0, 100, -100, 250] }));
    const read = JSON.parse(legLines.find((line) => line.includes('"word":0,'))!);
    const line = JSON.stringify({ ...read, word: 72, words: samples.toString("hex") });
    const { stdout } = await plyframe(["decode", "--json", "-"], { input: `${legLines[0]}\n${line}\n` });
    const waveform = JSON.parse(stdout);
    expect(waveform.record).toBe("waveform");
    expect(isReading(waveform), JSON.stringify(isReading.errors)).toBe(true);
  });

  it.each([["decode", ["decode", LEG]]])("of %s without --json has readings only", async (_, words) => {
    const { stdout, stderr } = await plyframe(words);
    for (const line of linesOf(stdout)) expect(line).toMatch(/^ *\d+\.\d{3} s {2}/);
    expect(stderr.match(/medical device/g)).toHaveLength(1);
    expect(stdout).not.toContain("medical device");
  });

  it("of a capture fits the schema of captures", async () => {
    const capture = join(testFolder(), "leg.jsonl");
    await plyframe(["read", "--for", "3", "--port", execKit("--speed 10"), "--capture", capture]);
    const lines = linesOf(readFileSync(capture, "utf8"));
    expect(lines.length).toBeGreaterThan(50);
    for (const line of lines) expect(isRecord(JSON.parse(line)), line).toBe(true);
  });
});

describe("a reader that has seen enough", () => {
  it.each([
    ["decode", `$PLYFRAME decode ${LEG}`],
    ["layout", "$PLYFRAME layout --json"],
    ["demo", "cd $HOME && $PLYFRAME demo --json --speed 20"],
  ])("ends %s quietly, with status 0", async (_, command) => {
    const { stdout, stderr } = await sh(`(${command}; echo "status $?" >&2) | head -c 1`, { HOME: testFolder() });
    expect(stdout.length).toBe(1);
    expect(stderr).toMatch(/status 0\n$/);
    expect(stderr).not.toMatch(/EPIPE|Error|at .*\.js/);
  });
});

describe("standard input", () => {
  it("is what - stands for", async () => {
    const [piped, read] = [
      await plyframe(["decode", "-"], { input: `${legLines.join("\n")}\n` }),
      await plyframe(["decode", LEG]),
    ];
    expect(piped.stdout).toBe(read.stdout);
    expect(piped.status).toBe(0);
  });
});

describe("colour", () => {
  it("is not in a pipe", async () => {
    for (const words of [
      ["decode", LEG],
      ["layout", "frame"],
      ["explain", "2101"],
    ]) {
      const { stdout, stderr } = await plyframe(words, { env: { FORCE_COLOR: "", TERM: "xterm-256color" } });
      expect(stdout + stderr).not.toContain(ESCAPE);
    }
  });

  needs("script", () => {
    const onTerminal = (env: { [name: string]: string }) =>
      sh(`script -qec "$PLYFRAME explain 2101" /dev/null`, { TERM: "xterm-256color", ...env });

    it("is on a terminal", async () => expect((await onTerminal({ NO_COLOR: "" })).stdout).toContain(ESCAPE));

    it("is nowhere with NO_COLOR", async () =>
      expect((await onTerminal({ NO_COLOR: "1" })).stdout).not.toContain(ESCAPE));
  });
});
