/** Made cases: what fails is found, shrunk across the pipe, made again from its path, and added to the vectors by one command. */
import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { expect, it, onTestFinished } from "vitest";
import { casesOfFile } from "../../../host/replay/cases-of-file.ts";
import type { Round } from "../../../host/replay/outcome.ts";
import { countRounds, madeGroups, runRounds } from "../../../host/replay/rounds.ts";
import { ROUNDS_PATIENCE, Session } from "../../../host/replay/session.ts";
import { readVectorSet } from "../../../host/replay/vector-set.ts";
import { needs } from "../../support/outside.ts";
import { readSchema } from "../../support/vectors.ts";
import { GREETING, program } from "./programs.ts";
import { folder } from "./vectors.ts";

const PATIENT_MS = 60_000;

/** A copy of the kit in Python with one edit. */
function wrongKit(file: string, find: string, replace: string): string[] {
  const copy = mkdtempSync(join(tmpdir(), "plyframe-rounds-"));
  onTestFinished(() => rmSync(copy, { recursive: true, force: true }));
  cpSync(join(folder, "kits/python"), copy, { recursive: true });
  const text = readFileSync(join(copy, file), "utf8");
  expect(text.split(find).length).toBe(2);
  writeFileSync(join(copy, file), text.replace(find, replace));
  return ["python3", "-B", join(copy, "kit.py")];
}

/** The vectors in a folder of their own, and commands as they are printed, run beside it. */
function copyOfVectors() {
  const home = mkdtempSync(join(tmpdir(), "plyframe-vectors-"));
  onTestFinished(() => rmSync(home, { recursive: true, force: true }));
  const copy = join(home, "vectors");
  cpSync(folder, copy, { recursive: true });
  const run = (command: string) => {
    const [python, ...words] = command.split(" ");
    return spawnSync(python!, ["-B", ...words], { cwd: home, encoding: "utf8" });
  };
  return { copy, run };
}

async function rounds(
  command: readonly string[],
  group: string,
  seed: number,
  path: string | null = null,
): Promise<Round> {
  const opened = await Session.open(command, PATIENT_MS, ROUNDS_PATIENCE);
  if ("failure" in opened) expect.fail(opened.failure);
  onTestFinished(async () => void (await opened.session.close()));
  const options = { rounds: 200, seed, path, wanted: (name: string) => name === group };
  const [round] = await runRounds(opened.session, options, () => undefined);
  return round!;
}

it("are made for decoding, writing, slots, readings, the link and EPCs", () => {
  for (const needed of [
    "decode.frame",
    "encode.burst",
    "slots",
    "header",
    "reading",
    "unframe",
    "message.tag_report",
    "epc",
  ]) {
    expect(madeGroups).toContain(`made:${needed}`);
  }
});

needs("python3", () => {
  const signless = () => wrongKit("records.py", "if signed and raw >> width - 1 else raw", "if False else raw");

  it("shrink to the smallest temperature below zero, and come back by seed and path", async () => {
    const round = await rounds(signless(), "made:decode.frame", 5);
    const { asked } = round.outcome!;
    // Nothing but the temperature is left: raw 0 is the smallest of every other field, 3328000 of the pressure.
    const values = Object.fromEntries(asked.expected.keys.map(({ key, text }) => [key, text]));
    expect(values).toMatchObject({ status: "0", sequence: "0", pressure: "3328000", supply: "0", uptime: "0" });
    expect(Number(values.temperature)).toBeLessThan(0);
    expect(round.outcome!.field).toBe("frame.temperature");
    expect(countRounds([round])[0]).toMatchObject({ group: "made:decode.frame", must: 1 });

    const [, seed, path] = /--seed (\d+) --path ([\d:]+)$/.exec(round.again!)!;
    const again = await rounds(signless(), "made:decode.frame", Number(seed), path!);
    expect(again.outcome!.asked.given).toEqual(asked.given);
  });

  it("find readings of which the uncertainty is said without knowing it", async () => {
    const round = await rounds(
      wrongKit("reading.py", "(SENSOR_FAULT | PRESSURE_AT_LIMIT | SUPPLY_LOW)", "0"),
      "made:reading",
      3,
    );
    expect(round.outcome!.differences.map(({ key }) => key)).toEqual(["uncertainty_thousandths_pa"]);
    expect(round.outcome!.field).toBe("frame.status");
  });

  it("find a good frame that is lost behind noise", async () => {
    const round = await rounds(
      wrongKit("link.py", "body = next((found for found in tails if found is not None), None)", "body = None"),
      "made:unframe",
      1,
    );
    expect(round.outcome!.differences.map(({ key }) => key)).toContain("bodies");
  });

  it.each([
    [
      "a good record",
      "records.py",
      "if signed and raw >> width - 1 else raw",
      "if False else raw",
      "made:decode.frame",
      5,
    ],
    ["a bad record", "records.py", 'return "reserved-bit-set" if raw else None', "return None", "made:decode.frame", 2],
    [
      "a record to be written",
      "records.py",
      '("supply", 10, 4, 31, 20,',
      '("supply", 10, 4, 30, 19,',
      "made:encode.frame",
      4,
    ],
    ["slots", "records.py", 'slot = "b" if 0 < ahead < 0x8000 else "a"', 'slot = "a"', "made:slots", 1],
    ["a header", "reading.py", 'if header["fingerprint"] != FINGERPRINT:', "if False:", "made:header", 3],
    ["a stream", "link.py", "            data.append(0)\n", "            pass\n", "made:unframe", 2],
    ["a message", "link.py", "if at != len(payload):", "if False:", "made:message.tag_report", 3],
    [
      "an EPC",
      "epc.py",
      "filter, partition = bits(8, 3), bits(11, 3)",
      "filter, partition = bits(7, 3), bits(11, 3)",
      "made:epc",
      4,
    ],
    [
      "a reading",
      "reading.py",
      'absolute = frame["pressure"] + c["offset"]',
      'absolute = frame["pressure"]',
      "made:reading",
      5,
    ],
  ])(
    "come with the command that adds %s to the vectors, and are asked from there",
    async (_, file, find, replace, group, seed) => {
      const { keep, outcome } = await rounds(wrongKit(file, find, replace), group, seed);
      const { id, given, verb } = outcome!.asked;
      const { run, copy } = copyOfVectors();
      expect(run(keep!)).toMatchObject({ status: 0, stderr: "" });

      const questions = readVectorSet(copy).files.flatMap(casesOfFile);
      const asked = questions.find((question) => question.id.startsWith(id) && question.verb === verb);
      expect(asked!.given).toEqual(given);
      const text = JSON.parse(readFileSync(join(copy, `${asked!.group}.json`), "utf8"));
      const ajv = new Ajv2020({ strict: true, allowUnionTypes: true });
      ajv.addSchema(readSchema("common.schema.json"));
      expect(ajv.validate(readSchema(text.schema.replace("schema/", "")), text), JSON.stringify(ajv.errors)).toBe(true);
      expect(text.notes.MadeCase).toMatch(/^Made by chance/);
    },
  );

  it("are added to the vectors once, and stay in them", () => {
    const { run } = copyOfVectors();
    const add = "python3 vectors/make/make.py --add made-1 decode record=xpc bytes=0200";
    expect(run(add)).toMatchObject({ status: 0, stderr: "" });
    expect(run("python3 vectors/make/make.py --check")).toMatchObject({ status: 0, stderr: "" });
    expect(run(add)).toMatchObject({ status: 1, stderr: "make.py: made-1 is there already\n" });
  });

  it("are refused as vectors when they are no question, and nothing is kept", () => {
    const { run, copy } = copyOfVectors();
    const { status, stderr } = run("python3 vectors/make/make.py --add made-1 guess bytes=00");
    expect([status, stderr]).toEqual([1, expect.stringMatching(/^make\.py: this question cannot be kept: guess: /)]);
    expect(readFileSync(join(copy, "make/found.txt"), "utf8")).toBe(
      readFileSync(join(folder, "make/found.txt"), "utf8"),
    );
  });
});

it("shrink what makes a program crash, and end when it is given up", async () => {
  const crash = program(`if (given.bytes.length > 20) process.exit(1); say(id + " bad record-too-short");`);
  const round = await rounds(crash, "made:decode.frame", 9);
  expect(round.outcome!.lost?.loss).toBe("ended");
  expect(round.outcome!.asked.given[1]![1].length).toBeGreaterThan(20);
});

it("are made only for what a program declares", async () => {
  const opened = await Session.open(
    program(`say(id + " unsupported");`, { greeting: GREETING }),
    PATIENT_MS,
    ROUNDS_PATIENCE,
  );
  if ("failure" in opened) expect.fail(opened.failure);
  onTestFinished(async () => void (await opened.session.close()));
  const found = await runRounds(
    opened.session,
    { rounds: 1, seed: 1, path: null, wanted: () => true },
    () => undefined,
  );
  expect(found.map(({ group }) => group)).toEqual(["made:decode.frame"]);
  expect(found[0]!.outcome!.differences).toEqual([
    { level: "must", key: "verdict", expected: expect.any(String), came: "unsupported" },
  ]);
});
