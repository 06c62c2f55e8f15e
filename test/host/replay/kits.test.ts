/** The kits in vectors/kits are right in all they declare, against every vector and against made cases. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { parseGreeting } from "../../../host/replay/greeting.ts";
import { failuresOf, isGood, totalOf } from "../../../host/replay/outcome.ts";
import { runRounds } from "../../../host/replay/rounds.ts";
import { runCases } from "../../../host/replay/run.ts";
import { ROUNDS_PATIENCE, Session, VECTORS_PATIENCE } from "../../../host/replay/session.ts";
import { needs } from "../../support/outside.ts";
import { cases, vectors } from "./vectors.ts";

const root = resolve(import.meta.dirname, "../../..");
const kits = join(root, "vectors/kits");
const PATIENT_MS = 60_000;

async function passes(command: readonly string[], atLeast: number): Promise<void> {
  const opened = await Session.open(command, PATIENT_MS, VECTORS_PATIENCE);
  if ("failure" in opened) expect.fail(opened.failure);
  const run = { command, vectors, cases, others: new Set<string>(), listed: new Map<string, number>() };
  const result = await runCases(opened.session, run, () => undefined);
  expect(failuresOf(result).map(({ asked, answer }) => `${asked.id}: ${answer}`)).toEqual([]);
  expect(result.complaints).toEqual([]);
  expect(isGood(result)).toBe(true);
  expect(totalOf(result.groups).asked).toBeGreaterThan(atLeast);
}

async function passesRounds(command: readonly string[]): Promise<void> {
  const opened = await Session.open(command, PATIENT_MS, ROUNDS_PATIENCE);
  if ("failure" in opened) expect.fail(opened.failure);
  onTestFinished(async () => void (await opened.session.close()));
  const rounds = await runRounds(
    opened.session,
    { rounds: 40, seed: 20261125, path: null, wanted: () => true },
    () => undefined,
  );
  expect(rounds.map(({ again }) => again).filter((again) => again !== null)).toEqual([]);
  expect(rounds.length).toBeGreaterThan(8);
}

describe("the kit in TypeScript", () => {
  const command = [
    process.execPath,
    join(root, "node_modules/tsx/dist/cli.mjs"),
    "--tsconfig",
    join(root, "tsconfig.json"),
    join(kits, "typescript/kit.ts"),
  ];
  it("passes every vector it declares", () => passes(command, 3000));
  it("passes made cases", () => passesRounds(command));
});

describe("the kit in Python", () => {
  needs("python3", () => {
    const command = ["python3", "-B", join(kits, "python/kit.py")];
    it("passes every vector it declares", () => passes(command, 2000));
    it("passes made cases", () => passesRounds(command));
  });
});

describe("the examples in REPLAY.md", () => {
  needs("python3", () => {
    const page = readFileSync(join(root, "vectors/REPLAY.md"), "utf8");
    const examples = [...page.matchAll(/^ {4}(\d+) ([a-z_]+) (.*)\n {4}\1 ((?:good|bad).*)$/gm)].filter(
      ([, , , given]) => !given!.includes("…"),
    );

    it("are there", () => expect(examples.map(([, , verb]) => verb)).toEqual(["hello", "decode", "decode"]));

    it.each(examples.slice(1).map(([, , verb, given, answer]) => [given!, verb!, answer!] as const))(
      "%s",
      async (given, verb, answer) => {
        const opened = await Session.open(["python3", "-B", join(kits, "python/kit.py")], PATIENT_MS, VECTORS_PATIENCE);
        if ("failure" in opened) expect.fail(opened.failure);
        onTestFinished(async () => void (await opened.session.close()));
        const exchange = await opened.session.ask(
          verb,
          given.split(" ").map((pair) => pair.split("=") as [string, string]),
        );
        const came = exchange.kind === "answer" ? exchange.text.split(" ") : [];
        for (const word of answer.split(" ")) expect(came).toContain(word);
      },
    );

    it("greet as a program must", () =>
      expect(parseGreeting(examples[0]![4]!)).toMatchObject({
        name: "bench-decoder",
        can: ["decode.frame", "slots", "places"],
      }));
  });
});

describe("the kit in C", () => {
  needs("cc", () => {
    it("is built without a warning, and passes every vector it declares and made cases, under sanitizers", async () => {
      const folder = mkdtempSync(join(tmpdir(), "plyframe-kit-"));
      onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
      const strict = ["-std=c99", "-Wall", "-Wextra", "-Wpedantic", "-Wconversion", "-Werror"];
      const sanitize = ["-g", "-O1", "-fsanitize=address,undefined", "-fno-sanitize-recover=all"];
      const sources = [join(kits, "c/kit.c"), join(kits, "c/reading.c"), join(root, "protocol/firmware/plyframe.c")];
      const words = [
        ...strict,
        ...sanitize,
        "-I",
        join(root, "protocol/firmware"),
        "-o",
        join(folder, "kit"),
        ...sources,
      ];
      expect(spawnSync("cc", words, { encoding: "utf8" })).toMatchObject({ status: 0, stderr: "" });
      await passes([join(folder, "kit")], 900);
      await passesRounds([join(folder, "kit")]);
    });
  });
});
