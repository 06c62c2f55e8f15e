/** `plyframe replay`: asks a program every vector it declares, and says what of it is wrong. */
import { randomInt } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { dirname, relative, resolve, sep } from "node:path";
import { casesOfFile } from "../../replay/cases-of-file.ts";
import { type ExpectedFailures, parseExpectedFailures } from "../../replay/expected-failures.ts";
import { isGood, type ReplayResult } from "../../replay/outcome.ts";
import { resultHtml } from "../../replay/result-html.ts";
import { resultRecords } from "../../replay/result-json.ts";
import { resultJunit } from "../../replay/result-junit.ts";
import { resultTap } from "../../replay/result-tap.ts";
import { countRounds, madeGroups, type RoundsOptions, runRounds } from "../../replay/rounds.ts";
import { runCases } from "../../replay/run.ts";
import { type Patience, ROUNDS_PATIENCE, Session, VECTORS_PATIENCE } from "../../replay/session.ts";
import { MEMORY_MAP } from "../../replay/specification-link.ts";
import { readVectorSet } from "../../replay/vector-set.ts";
import { Counter } from "../counter.ts";
import { CommandError, EXIT, systemSentence } from "../exit.ts";
import { numberOption, seedOption } from "../number-option.ts";
import { packageFile } from "../package-file.ts";
import { replayText } from "../replay-text.ts";
import { note, say, sayJson } from "../terminal.ts";

export interface ReplayOptions {
  readonly group: readonly string[];
  readonly timeout: string;
  readonly rounds?: string;
  readonly seed?: string;
  readonly path?: string;
  readonly expectFailures?: string;
  readonly junit?: string;
  readonly tap?: string;
  readonly html?: string;
  readonly json?: boolean;
}

export async function replay(command: readonly string[], options: ReplayOptions): Promise<void> {
  const timeoutMs = 1000 * numberOption("--timeout", options.timeout, 0.01, 3600);
  const vectors = readVectorSet(packageFile("vectors"));
  const all = vectors.files.flatMap(casesOfFile);
  const groups = new Set(all.map(({ group }) => group));
  const made = roundsOptions(options);
  const wanted = (group: string) => options.group.length === 0 || options.group.includes(group);
  checkGroups(options.group, [...groups, ...(made ? madeGroups : [])]);
  const listed = expectedFailures(options.expectFailures);
  const cases = all.filter(({ group }) => wanted(group));
  const others = new Set(all.filter(({ group }) => !wanted(group)).map(({ id }) => id));

  const session = await open(command, timeoutMs, VECTORS_PATIENCE);
  const counter = new Counter("cases");
  const run = { command, vectors, cases, others, listed };
  const fixed = await runCases(session, run, (done, total) => counter.show(done, total));
  counter.end();
  const result = made ? await withRounds(fixed, { ...made, wanted }, timeoutMs) : fixed;

  if (options.json) for (const record of resultRecords(result)) sayJson(record);
  else for (const line of replayText(result)) say(line);
  keepFiles(result, options);
  if (!isGood(result)) process.exitCode = EXIT.rejected;
}

async function open(command: readonly string[], timeoutMs: number, patience: Patience): Promise<Session> {
  const opened = await Session.open(command, timeoutMs, patience);
  if ("failure" in opened) throw new CommandError(EXIT.device, `${command[0]}: ${opened.failure}`);
  return opened.session;
}

function checkGroups(asked: readonly string[], known: readonly string[]): void {
  const strange = asked.find((group) => !known.includes(group));
  if (strange !== undefined) throw new CommandError(EXIT.usage, `--group ${strange}: groups are ${known.join(", ")}`);
}

/** Null when no cases are to be made. */
function roundsOptions({ rounds, seed, path }: ReplayOptions): Omit<RoundsOptions, "wanted"> | null {
  if (rounds === undefined) {
    if (seed === undefined && path === undefined) return null;
    throw new CommandError(EXIT.usage, "--seed and --path go with --rounds");
  }
  const number = numberOption("--rounds", rounds, 1, 1_000_000);
  if (!Number.isInteger(number)) throw new CommandError(EXIT.usage, `--rounds ${rounds}: give a whole number`);
  if (path !== undefined && (seed === undefined || !/^\d+(:\d+)*$/.test(path))) {
    throw new CommandError(EXIT.usage, `--path ${path}: give the path as it was printed, with its --seed`);
  }
  return { rounds: number, seed: seed === undefined ? randomInt(2 ** 31) : seedOption(seed) | 0, path: path ?? null };
}

async function withRounds(fixed: ReplayResult, options: RoundsOptions, timeoutMs: number): Promise<ReplayResult> {
  const session = await open(fixed.command, timeoutMs, ROUNDS_PATIENCE);
  const counter = new Counter("rounds");
  const rounds = await runRounds(session, options, (done, total) => counter.show(done, total));
  counter.end();
  const gaveUp = session.givenUp === null ? [] : [{ id: "given-up", says: `rounds: ${session.givenUp}` }];
  await session.close();
  return {
    ...fixed,
    rounds,
    groups: [...fixed.groups, ...countRounds(rounds)],
    complaints: [...fixed.complaints, ...gaveUp],
    restarts: fixed.restarts + session.restarts,
  };
}

function expectedFailures(file: string | undefined): ExpectedFailures {
  if (file === undefined) return new Map();
  const listed = parseExpectedFailures(readText(file));
  if (typeof listed === "string") throw new CommandError(EXIT.usage, `${file}: ${listed}`);
  return listed;
}

function readText(file: string): string {
  try {
    return readFileSync(file, "utf8");
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(file, error));
  }
}

function keepFiles(result: ReplayResult, { junit, tap, html }: ReplayOptions): void {
  if (junit !== undefined) keep(junit, resultJunit(result));
  if (tap !== undefined) keep(tap, resultTap(result));
  if (html !== undefined) {
    const map = relative(dirname(resolve(html)), packageFile(MEMORY_MAP))
      .split(sep)
      .join("/");
    keep(html, resultHtml(result, encodeURI(map)));
  }
}

function keep(file: string, text: string): void {
  try {
    writeFileSync(file, text);
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(file, error));
  }
  note(`wrote ${file}`);
}
