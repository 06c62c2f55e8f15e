/** What came of a run. */
import type { Greeting } from "./greeting.ts";
import type { Difference } from "./judge.ts";
import type { Loss } from "./program.ts";
import type { Level, ReplayCase } from "./replay-case.ts";

/** One case that was asked. */
export interface Outcome {
  readonly asked: ReplayCase;
  /** Gravest level at which the answer is wrong; null when it is right. */
  readonly wrong: Level | null;
  readonly differences: readonly Difference[];
  /** What stood behind the id; null when the answer was lost. */
  readonly answer: string | null;
  readonly lost: { readonly loss: Loss; readonly says: string } | null;
  /** Path of the field concerned; null when the answer is right. */
  readonly field: string | null;
  /** On the list of expected failures. */
  readonly listed: boolean;
}

/** Something wrong that is of no single case. */
export interface Complaint {
  readonly id: string;
  readonly says: string;
}

/** Cases made for one capability; `outcome` is the smallest one that fails, null when all were right. */
export interface Round {
  readonly group: string;
  readonly asked: number;
  readonly seed: number;
  readonly outcome: Outcome | null;
  /** Options of `plyframe replay` that make the smallest failing case again; null when all were right. */
  readonly again: string | null;
  /** The command that adds the same case to the vectors, its answer worked there by other code; null when all were right. */
  readonly keep: string | null;
}

/** Cases of one group. */
export interface GroupCount {
  readonly group: string;
  readonly asked: number;
  readonly right: number;
  /** Wrong or lost, and not listed. */
  readonly must: number;
  /** Right but for place or what was noticed, and not listed. */
  readonly should: number;
  readonly listed: number;
  /** Not asked because the program does not declare it. */
  readonly undeclared: number;
  /** Not asked because the program was given up. */
  readonly skipped: number;
}

export interface ReplayResult {
  readonly vectors: { readonly version: string; readonly digest: string };
  readonly command: readonly string[];
  readonly greeting: Greeting;
  /** Whether places were judged. */
  readonly places: boolean;
  readonly outcomes: readonly Outcome[];
  readonly rounds: readonly Round[];
  readonly complaints: readonly Complaint[];
  readonly groups: readonly GroupCount[];
  readonly restarts: number;
}

/** Outcomes that make a run fail; the smallest one of each round. */
export function failuresOf({ outcomes, rounds }: ReplayResult): Outcome[] {
  const made = rounds.flatMap(({ outcome }) => (outcome ? [outcome] : []));
  return [...outcomes.filter(({ wrong, listed }) => wrong !== null && !listed), ...made];
}

/** Whether every answer was right or listed, and nothing else went wrong. */
export function isGood(result: ReplayResult): boolean {
  return failuresOf(result).length === 0 && result.complaints.length === 0;
}

/** Fields that failures are about, the most frequent first. */
export function fieldsConcerned(result: ReplayResult): { readonly field: string; readonly failures: number }[] {
  const counts = new Map<string, number>();
  for (const { field } of failuresOf(result)) if (field) counts.set(field, (counts.get(field) ?? 0) + 1);
  return [...counts]
    .map(([field, failures]) => ({ field, failures }))
    .sort((a, b) => b.failures - a.failures || (a.field < b.field ? -1 : 1));
}

/** Totals over the groups. */
export function totalOf(groups: readonly GroupCount[]): GroupCount {
  const sum = (key: "asked" | "right" | "must" | "should" | "listed" | "undeclared" | "skipped") =>
    groups.reduce((total, group) => total + group[key], 0);
  const [asked, right, must, should] = [sum("asked"), sum("right"), sum("must"), sum("should")];
  const [listed, undeclared, skipped] = [sum("listed"), sum("undeclared"), sum("skipped")];
  return { group: "all", asked, right, must, should, listed, undeclared, skipped };
}
