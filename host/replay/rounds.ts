/** Rounds of made cases: each capability gets so many, and a failing one is shrunk by asking the program again. */
import * as fc from "fast-check";
import { requestLine } from "./answer.ts";
import { covers, PLACES } from "./capability.ts";
import { makers } from "./made-arbitrary.ts";
import { madeGroup } from "./made-case.ts";
import type { GroupCount, Outcome, Round } from "./outcome.ts";
import type { ReplayCase } from "./replay-case.ts";
import { outcomeOf } from "./run.ts";
import type { Session } from "./session.ts";

export interface RoundsOptions {
  /** Cases for each capability. */
  readonly rounds: number;
  readonly seed: number;
  /** Fast-check's path to one case, as `again` prints it; null: all of them. */
  readonly path: string | null;
  /** Whether a group is wanted. */
  readonly wanted: (group: string) => boolean;
}

/** Names of every group of made cases. */
export const madeGroups: readonly string[] = makers.map(({ needs }) => madeGroup(needs));

/** Asks made cases of every wanted capability the program declares. `onProgress`: capabilities done of all. */
export async function runRounds(
  session: Session,
  { rounds, seed, path, wanted }: RoundsOptions,
  onProgress: (done: number, total: number) => void,
): Promise<Round[]> {
  const { can } = session.greeting;
  const chosen = makers.filter(({ needs }) => covers(can, needs) && wanted(madeGroup(needs)));
  const done: Round[] = [];
  for (const { needs, cases } of chosen) {
    if (session.givenUp !== null) break;
    const ask = async (asked: ReplayCase) =>
      outcomeOf(asked, await session.ask(asked.verb, asked.given), can.includes(PLACES), false);
    done.push(await oneRound(madeGroup(needs), cases, ask, session, { rounds, seed, path }));
    onProgress(done.length, chosen.length);
  }
  return done;
}

async function oneRound(
  group: string,
  cases: fc.Arbitrary<ReplayCase>,
  ask: (asked: ReplayCase) => Promise<Outcome>,
  session: Session,
  { rounds, seed, path }: Omit<RoundsOptions, "wanted">,
): Promise<Round> {
  let smallest: Outcome | null = null;
  const property = fc.asyncProperty(cases, async (asked) => {
    // A program that was given up is asked no more: shrinking ends with what it has.
    if (session.givenUp !== null) return true;
    const outcome = await ask(asked);
    if (outcome.wrong === null) return true;
    smallest = outcome;
    return false;
  });
  const details = await fc.check(property, { numRuns: rounds, seed, ...(path !== null && { path }) });
  const asked = Math.max(1, details.numRuns);
  const outcome = smallest as Outcome | null;
  if (!outcome) return { group, asked, seed, outcome: null, again: null, keep: null };
  const again = `--group ${group} --rounds ${rounds} --seed ${seed} --path ${details.counterexamplePath ?? path ?? "0"}`;
  const id = `${group.replace(/[:._]/g, "-")}-${seed >>> 0}-${(details.counterexamplePath ?? "0").split(":")[0]}`;
  const { verb, given } = outcome.asked;
  return {
    group,
    asked,
    seed,
    outcome: { ...outcome, asked: { ...outcome.asked, id } },
    again,
    keep: `python3 vectors/make/make.py --add ${id} ${requestLine(0, verb, given).slice(2)}`,
  };
}

/** Rounds as rows of the table by group. */
export function countRounds(rounds: readonly Round[]): GroupCount[] {
  return rounds.map(({ group, asked, outcome }) => {
    const wrong = (level: "must" | "should") => (outcome?.wrong === level ? 1 : 0);
    const right = asked - (outcome ? 1 : 0);
    return { group, asked, right, must: wrong("must"), should: wrong("should"), listed: 0, undeclared: 0, skipped: 0 };
  });
}
