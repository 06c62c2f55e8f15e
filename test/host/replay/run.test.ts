/** A whole run: what is counted, what is charged, and the list of expected failures. */
import { describe, expect, it } from "vitest";
import { parseExpectedFailures } from "../../../host/replay/expected-failures.ts";
import { failuresOf, fieldsConcerned, isGood, type ReplayResult } from "../../../host/replay/outcome.ts";
import { badAnswer, goodAnswer, must, type ReplayCase } from "../../../host/replay/replay-case.ts";
import { runCases } from "../../../host/replay/run.ts";
import { Session } from "../../../host/replay/session.ts";
import { GREETING, program } from "./programs.ts";

const PATIENT_MS = 60_000;

/** Is waited out by programs that stay silent, and long enough for any to start. */
const SLOW_START_MS = 10_000;

function question(id: string, needs = "decode.frame", group = "frames"): ReplayCase {
  const expected = goodAnswer([must("sequence", 7)]);
  return { id, group, why: "Invented.", needs, verb: "decode", given: [["as", id]], expected, about: "frame" };
}

const bad: ReplayCase = {
  ...question("bad"),
  expected: badAnswer("checksum-mismatch", { byte: 14, bit: 0, path: "frame.seal" }),
};

async function run(
  command: readonly string[],
  cases: readonly ReplayCase[],
  list = "",
  others: readonly string[] = [],
  timeoutMs = PATIENT_MS,
): Promise<ReplayResult> {
  const opened = await Session.open(command, timeoutMs, { inARow: 4, inAll: 100 });
  if ("failure" in opened) expect.fail(opened.failure);
  const listed = parseExpectedFailures(list);
  if (typeof listed === "string") expect.fail(listed);
  const vectors = { version: "1.2.3", digest: "00" };
  return runCases(opened.session, { command, vectors, cases, others: new Set(others), listed }, () => undefined);
}

/** Answers by the case's name: `wrong`… with another sequence, `crash`… by ending, anything else right. */
const BY_NAME = `
  if (given.as.startsWith("crash")) process.exit(1);
  say(id + (given.as.startsWith("wrong") ? " good sequence=8" : " good sequence=7"));
`;

const results = ({ outcomes }: ReplayResult) =>
  outcomes.map(({ asked, wrong, lost }) => [asked.id, wrong, lost?.loss ?? null]);

describe("a run", () => {
  it("counts by group what was asked, right, wrong and not declared", async () => {
    const cases = [
      question("a"),
      question("wrong"),
      question("b", "decode.header", "header"),
      question("c", "decode.frame", "header"),
    ];
    const result = await run(program(BY_NAME), cases);
    expect(results(result)).toEqual([
      ["a", null, null],
      ["wrong", "must", null],
      ["c", null, null],
    ]);
    expect(result.groups).toEqual([
      { group: "frames", asked: 2, right: 1, must: 1, should: 0, listed: 0, undeclared: 0, skipped: 0 },
      { group: "header", asked: 1, right: 1, must: 0, should: 0, listed: 0, undeclared: 1, skipped: 0 },
    ]);
    expect(isGood(result)).toBe(false);
    expect(fieldsConcerned(result)).toEqual([{ field: "frame.sequence", failures: 1 }]);
  });

  it("charges a crash to the open request and goes on", async () => {
    const result = await run(program(BY_NAME), [question("a"), question("crash"), question("b")]);
    expect(results(result)).toEqual([
      ["a", null, null],
      ["crash", "must", "ended"],
      ["b", null, null],
    ]);
    expect(result.restarts).toBe(1);
    expect(result.complaints).toEqual([]);
  });

  it("charges silence to the open request and goes on", async () => {
    const silent = program(`if (given.as !== "silent") say(id + " good sequence=7");`);
    const result = await run(silent, [question("silent"), question("b")], "", [], SLOW_START_MS);
    expect(results(result)[0]).toEqual(["silent", "must", "silent"]);
    expect(result.outcomes.length).toBe(2);
  });

  it("gives up a program that is lost at every request, and says how much was not asked", async () => {
    const cases = Array.from({ length: 9 }, (_, i) => question(`crash-${i}`));
    const result = await run(program(BY_NAME), cases);
    expect(result.outcomes.length).toBe(4);
    expect(result.groups[0]).toMatchObject({ asked: 4, must: 4, skipped: 5 });
    expect(result.complaints).toEqual([
      { id: "given-up", says: "given up after 4 lost answers in a row: 5 cases were not asked" },
    ]);
  });

  it("asks for places only where they are declared, and counts them apart", async () => {
    const answer = `say(id + " bad checksum-mismatch byte=0");`;
    expect(results(await run(program(answer), [bad]))).toEqual([["bad", null, null]]);
    const placed = await run(program(answer, { greeting: `${GREETING},places` }), [bad]);
    expect(results(placed)).toEqual([["bad", "should", null]]);
    expect(placed.groups[0]).toMatchObject({ must: 0, should: 1 });
    expect(isGood(placed)).toBe(false);
  });

  it.each([
    ["another specification", GREETING.replace("028961a7", "00000001"), /written for specification 00000001/],
    ["a capability that is none", `${GREETING},fly`, /declares fly/],
    ["nothing", GREETING.replace("can=decode.frame", "can=places"), /declares nothing/],
  ])("complains of a program that declares %s", async (_, greeting, says) => {
    const result = await run(program(BY_NAME, { greeting }), [question("a")]);
    expect(result.complaints.map((complaint) => complaint.says)).toEqual([expect.stringMatching(says)]);
    expect(isGood(result)).toBe(false);
  });

  it("complains of a program that does not end", async () => {
    const stubborn = program(BY_NAME, { before: "setInterval(() => undefined, 1000);" });
    const result = await run(stubborn, [question("a")], "", [], SLOW_START_MS);
    expect(result.complaints.map(({ id }) => id)).toEqual(["end"]);
  });
});

describe("expected failures", () => {
  const cases = [question("a"), question("wrong"), question("other", "decode.header")];

  it("do not fail a run", async () => {
    const result = await run(program(BY_NAME), cases, "wrong # known\n");
    expect(isGood(result)).toBe(true);
    expect(failuresOf(result)).toEqual([]);
    expect(result.groups[0]).toMatchObject({ right: 1, must: 0, listed: 1 });
  });

  it.each([
    ["passes", "wrong\na\n", /line 2 .* a, passes/],
    ["is not asked", "wrong\nother\n", /line 2 .* other, was not asked/],
    ["is no case", "nothing\nwrong\n", /line 1 .* nothing, is no case/],
  ])("fail it when one %s", async (_, list, says) => {
    const result = await run(program(BY_NAME), cases, list);
    expect(result.complaints.map((complaint) => complaint.says)).toEqual([expect.stringMatching(says)]);
    expect(isGood(result)).toBe(false);
  });

  it("may name cases of groups that this run leaves out", async () => {
    expect(isGood(await run(program(BY_NAME), cases, "wrong\nelsewhere\n", ["elsewhere"]))).toBe(true);
  });
});
