/** A run of the replay kit as lines for a person. */
import { clipped, requestLine } from "../replay/answer.ts";
import {
  failuresOf,
  fieldsConcerned,
  isGood,
  type Outcome,
  type ReplayResult,
  type Round,
  totalOf,
} from "../replay/outcome.ts";
import { anchorOf, fieldLine, MEMORY_MAP } from "../replay/specification-link.ts";
import { columns, fold, paint } from "./terminal.ts";

/** Failures shown of one field; the files hold all. */
const SHOWN = 3;

const HEAD = ["group", "asked", "right", "must", "should", "listed", "not declared"];

/** Head, table by group, failures by field, complaints, and the verdict. */
export function replayText(result: ReplayResult): string[] {
  const { vectors, greeting, command, places, groups, complaints, restarts, rounds } = result;
  const version = greeting.version === null ? "" : ` ${greeting.version}`;
  const rows = [...groups, totalOf(groups)].map(({ group, asked, right, must, should, listed, undeclared }) =>
    [group, asked, right, must, places ? should : "-", listed, undeclared].map(String),
  );
  return [
    `program  ${greeting.name}${version}, specification ${greeting.fingerprint} (${command.join(" ")})`,
    `vectors  ${vectors.version}, sha256 ${vectors.digest}`,
    "",
    ...columns([HEAD, ...rows], [1, 2, 3, 4, 5, 6]),
    "",
    ...fieldsConcerned(result).flatMap(({ field }) => [...fieldText(result, field), ""]),
    ...complaints.map(({ says }) => paint.red(`run: ${says}`)),
    ...(rounds.length > 0 ? [`Cases were made with --seed ${rounds[0]!.seed}.`] : []),
    ...(restarts > 0 ? [`The program was started again ${restarts === 1 ? "once" : `${restarts} times`}.`] : []),
    verdict(result),
  ];
}

function fieldText(result: ReplayResult, field: string): string[] {
  const outcomes = failuresOf(result).filter((outcome) => outcome.field === field);
  const line = fieldLine(field);
  return [
    `${paint.bold(field)}  ${count(outcomes.length, "failure")}  ${MEMORY_MAP}#${anchorOf(field)}`,
    ...(line === null ? [] : fold(line, 108).map((text) => `  ${paint.dim(text)}`)),
    ...outcomes.slice(0, SHOWN).flatMap(outcomeText),
    ...result.rounds.filter(({ outcome }) => outcome?.field === field).flatMap(roundText),
    ...(outcomes.length > SHOWN
      ? [`  and ${outcomes.length - SHOWN} more: --html, --junit, --tap or --json has every one`]
      : []),
  ];
}

function outcomeText({ asked, wrong, differences, answer, lost }: Outcome): string[] {
  const request = clipped(requestLine(0, asked.verb, asked.given).slice(2), 300);
  return [
    `  ${paint.red(wrong!)} ${asked.id}: ${asked.why}`,
    `    asked     ${request}`,
    ...differences.map(({ key, expected, came }) => `    ${key.padEnd(8)}  expected ${expected}, came ${came}`),
    ...(lost ? [`    lost      ${lost.loss}: ${lost.says}`] : []),
    ...(answer === null || differences.length === 0 ? [] : [`    answer    ${clipped(answer, 300)}`]),
  ];
}

/** How to make the case again, and how to add it to the vectors. */
function roundText({ group, again, keep }: Round): string[] {
  return [`  ${group}, made again: plyframe replay ${again} -- …`, `    kept for good: ${keep}`];
}

function verdict(result: ReplayResult): string {
  const { asked, right, must, should, listed, skipped } = totalOf(result.groups);
  const parts = [`${right} of ${asked} right`];
  if (must > 0) parts.push(`${must} wrong (must)`);
  if (should > 0) parts.push(`${should} wrong in place (should)`);
  if (listed > 0) parts.push(`${listed} expected to fail`);
  if (skipped > 0) parts.push(`${skipped} not asked`);
  if (result.complaints.length > 0) parts.push(`${count(result.complaints.length, "complaint")} about the run`);
  if (!result.places) parts.push("places not judged: the program does not declare them");
  const text = `${parts.join(", ")}.`;
  return isGood(result) ? paint.green(text) : paint.red(text);
}

function count(number: number, noun: string): string {
  return `${number} ${noun}${number === 1 ? "" : "s"}`;
}
