/** Made cases in the vectors: vectors/make works each answer by tables and code of its own, and agrees with this package. */
import { execFileSync } from "node:child_process";
import * as fc from "fast-check";
import { expect, it } from "vitest";
import { requestLine } from "../../../host/replay/answer.ts";
import { casesOfFile } from "../../../host/replay/cases-of-file.ts";
import { makers } from "../../../host/replay/made-arbitrary.ts";
import type { ReplayCase } from "../../../host/replay/replay-case.ts";
import type { Vector } from "../../../host/replay/vector-set.ts";
import { needs } from "../../support/outside.ts";
import { cases, folder, vectors } from "./vectors.ts";

/** Every line's vector, worked in Python; null for what is no question. */
const WORK = `import json, sys
sys.path.insert(0, "make")
from found import vector_of
for line in sys.stdin.read().splitlines():
    try:
        print(json.dumps(vector_of(line)))
    except ValueError:
        print("null")`;

type Worked = readonly [file: string, vector: Vector];

function work(cases: readonly ReplayCase[]): (Worked | null)[] {
  const lines = cases.map(({ verb, given }, i) => requestLine(i, verb, given));
  const found = execFileSync("python3", ["-B", "-c", WORK], {
    cwd: folder,
    input: lines.join("\n"),
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  return found
    .trimEnd()
    .split("\n")
    .map((line) => JSON.parse(line) as Worked | null);
}

/** The question a worked vector asks, as it will be asked from its file. */
function askedBy([file, vector]: Worked, verb: string): ReplayCase {
  const { name, kind } = vectors.files.find(({ name }) => `${name}.json` === file)!;
  const asked = casesOfFile({ name, kind, vectors: [vector] }).find((question) => question.verb === verb);
  return asked ?? expect.fail(`${file} does not ask ${verb}`);
}

/** What is asked for; keys that may be left out only where the other answer has them too. */
function answerOf({ expected: { verdict, reason, keys } }: ReplayCase, other: ReplayCase) {
  const known = new Set(other.expected.keys.map(({ key }) => key));
  const told = keys.filter(({ key, optional }) => !optional || known.has(key));
  return { verdict, reason, keys: Object.fromEntries(told.map(({ key, text }) => [key, text])) };
}

function expectAgreement(cases: readonly ReplayCase[]): void {
  for (const [i, worked] of work(cases).entries()) {
    const one = cases[i]!;
    const asked = worked ? askedBy(worked, one.verb) : expect.fail(`${one.id} is not worked`);
    expect([one.id, asked.given, answerOf(asked, one)]).toEqual([one.id, one.given, answerOf(one, asked)]);
  }
}

/** Kinds of question that are made. */
const VERBS = new Set(makers.map(({ needs: needed }) => needed.split(".")[0]!));

/** Text that is no hex, and answers of which the vector knows a part. */
const isLeftOut = ({ group, given }: ReplayCase) =>
  ["refusals", "stored-crc"].includes(group) ||
  given.some(([key, text]) => key === "hex" && !/^([0-9a-f]{2})*$/.test(text));

needs("python3", () => {
  it.each(makers.map((maker) => [maker.needs, maker.cases] as const))("%s, made", (_, made) => {
    expectAgreement(fc.sample(made, { numRuns: 60, seed: 11 }));
  });

  it("every vector made by hand", () => {
    const known = cases.filter((asked) => VERBS.has(asked.verb) && !isLeftOut(asked));
    expect(known.length).toBeGreaterThan(2000);
    expectAgreement(known);
  });
});
