/** A run as JUnit XML, in the members that continuous integration servers read: suites, suites' counts, cases, failures. */
import { clipped } from "./answer.ts";
import { factsOf } from "./failure-facts.ts";
import type { Outcome, ReplayResult } from "./outcome.ts";

/** One test case: what stands within its element, and how it counts. */
interface Entry {
  readonly suite: string;
  readonly name: string;
  readonly kind: "passed" | "failed" | "skipped";
  readonly inner: string;
}

const LONGEST = 2000;

export function resultJunit(result: ReplayResult): string {
  const { vectors, greeting, outcomes, rounds, complaints } = result;
  const entries: Entry[] = [
    ...outcomes.map((outcome) => caseEntry(outcome.asked.group, outcome.asked.id, outcome)),
    ...rounds.map(({ group, asked, seed, outcome, again }) =>
      caseEntry(group, `${asked} made cases, seed ${seed}`, outcome, again ?? undefined),
    ),
    ...complaints.map(({ id, says }) => failed("run", id, "must", says, says)),
  ];
  const properties = Object.entries({
    "vectors-version": vectors.version,
    "vectors-sha256": vectors.digest,
    program: greeting.name,
    fingerprint: greeting.fingerprint,
  }).map(([name, value]) => `<property name="${name}" value="${escaped(value)}"/>`);
  const suites = ["run", ...new Set(entries.map(({ suite }) => suite).filter((suite) => suite !== "run"))];
  const elements = suites.map((name) => {
    const own = entries.filter(({ suite }) => suite === name);
    const head = name === "run" ? `<properties>\n${properties.join("\n")}\n</properties>\n` : "";
    const skipped = `skipped="${count(own, "skipped")}"`;
    return `<testsuite name="${escaped(name)}" ${counts(own)} ${skipped}>\n${head}${own.map(element).join("")}</testsuite>\n`;
  });
  return `<?xml version="1.0" encoding="UTF-8"?>
<testsuites name="plyframe replay" ${counts(entries)}>
${elements.join("")}</testsuites>
`;
}

function count(entries: readonly Entry[], wanted: Entry["kind"]): number {
  return entries.filter(({ kind }) => kind === wanted).length;
}

/** Those that the whole file has as well as each suite: strict readers refuse a count of what was skipped in the whole. */
function counts(entries: readonly Entry[]): string {
  return `tests="${entries.length}" failures="${count(entries, "failed")}" errors="0"`;
}

function caseEntry(suite: string, name: string, outcome: Outcome | null, again?: string): Entry {
  if (!outcome || outcome.wrong === null) return { suite, name, kind: "passed", inner: "" };
  if (outcome.listed) return { suite, name, kind: "skipped", inner: `<skipped message="expected failure"/>` };
  const { message, request, expected, came, field, specification } = factsOf(outcome);
  const text = [
    outcome.asked.why,
    `request   ${clipped(request, LONGEST)}`,
    `expected  ${clipped(expected, LONGEST)}`,
    `came      ${clipped(came, LONGEST)}`,
    `field     ${field} (${specification})`,
    ...(again === undefined ? [] : [`again     plyframe replay ${again} -- …`]),
  ].join("\n");
  return failed(suite, name, outcome.wrong, message, text);
}

function failed(suite: string, name: string, level: string, message: string, text: string): Entry {
  const inner = `<failure type="${level}" message="${escaped(message)}">${escaped(text)}</failure>`;
  return { suite, name, kind: "failed", inner };
}

function element({ suite, name, inner }: Entry): string {
  const head = `<testcase classname="${escaped(suite)}" name="${escaped(name)}"`;
  return inner === "" ? `${head}/>\n` : `${head}>${inner}</testcase>\n`;
}

/** Text that is good as an attribute and between tags; characters that XML 1.0 cannot hold become U+FFFD. */
function escaped(text: string): string {
  return text
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, "\ufffd")
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(/>/g, "&gt;")
    .replace(/"/g, "&quot;");
}
