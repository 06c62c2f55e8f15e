/** A run in the Test Anything Protocol, version 13 (testanything.org): one test a case, one a round, one a complaint. */
import { clipped } from "./answer.ts";
import { factsOf } from "./failure-facts.ts";
import type { Outcome, ReplayResult } from "./outcome.ts";

type Details = { readonly [key: string]: string };

interface Test {
  readonly name: string;
  /** Null: it passed. */
  readonly details: Details | null;
  readonly listed: boolean;
}

export function resultTap({ vectors, greeting, outcomes, rounds, complaints }: ReplayResult): string {
  const tests: Test[] = [
    ...outcomes.map((outcome) => ({
      name: `${outcome.asked.group}: ${outcome.asked.id}`,
      details: outcome.wrong === null ? null : detailsOf(outcome),
      listed: outcome.listed,
    })),
    ...rounds.map(({ group, asked, seed, outcome, again }) => ({
      name: `${group}: ${asked} made cases, seed ${seed}`,
      details: outcome && { ...detailsOf(outcome), again: again! },
      listed: false,
    })),
    ...complaints.map(({ id, says }) => ({ name: `run: ${id}`, details: { message: says }, listed: false })),
  ];
  const lines = [
    "TAP version 13",
    `1..${tests.length}`,
    `# vectors ${vectors.version}, sha256 ${vectors.digest}`,
    `# program ${greeting.name}`,
    ...tests.flatMap(testLines),
  ];
  return `${lines.join("\n")}\n`;
}

function testLines({ name, details, listed }: Test, index: number): string[] {
  const title = `${index + 1} - ${name}`;
  if (!details) return [`ok ${title}`];
  return [`not ok ${title}${listed ? " # TODO expected failure" : ""}`, ...yaml(details)];
}

function detailsOf(outcome: Outcome): Details {
  const facts = Object.entries(factsOf(outcome)).map(([key, text]) => [key, clipped(text as string, 400)]);
  return { level: outcome.wrong!, ...Object.fromEntries(facts) };
}

/** A YAML block whose values are JSON strings, which YAML reads as they are. */
function yaml(values: Details): string[] {
  return ["  ---", ...Object.entries(values).map(([key, value]) => `  ${key}: ${JSON.stringify(value)}`), "  ..."];
}
