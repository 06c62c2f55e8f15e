/** One run: every case the program declares, one after the other. */
import { formatFingerprint, layout } from "../../protocol/index.ts";
import { covers, PLACES } from "./capability.ts";
import { concernOf } from "./concern.ts";
import type { ExpectedFailures } from "./expected-failures.ts";
import type { Greeting } from "./greeting.ts";
import { judge } from "./judge.ts";
import type { Complaint, GroupCount, Outcome, ReplayResult } from "./outcome.ts";
import type { Exchange } from "./program.ts";
import type { ReplayCase } from "./replay-case.ts";
import type { Session } from "./session.ts";

/** What is asked, and of what. */
export interface Run {
  readonly command: readonly string[];
  readonly vectors: { readonly version: string; readonly digest: string };
  readonly cases: readonly ReplayCase[];
  /** Ids of cases outside this run, which a list may name all the same. */
  readonly others: ReadonlySet<string>;
  readonly listed: ExpectedFailures;
}

/** Asks every case and closes the program. `onProgress`: cases done of those that are asked. */
export async function runCases(
  session: Session,
  { command, vectors, cases, others, listed }: Run,
  onProgress: (done: number, total: number) => void,
): Promise<ReplayResult> {
  const { greeting } = session;
  const declared = cases.filter(({ needs }) => covers(greeting.can, needs));
  const outcomes: Outcome[] = [];
  for (const asked of declared) {
    if (session.givenUp !== null) break;
    const exchange = await session.ask(asked.verb, asked.given);
    outcomes.push(outcomeOf(asked, exchange, greeting.can.includes(PLACES), listed.has(asked.id)));
    onProgress(outcomes.length, declared.length);
  }
  const complaints = [...greetingComplaints(greeting), ...listComplaints(outcomes, cases, others, listed)];
  if (session.givenUp !== null) {
    const left = declared.length - outcomes.length;
    complaints.push({ id: "given-up", says: `${session.givenUp}: ${left} cases were not asked` });
  }
  const endedWell = await session.close();
  if (!endedWell) {
    complaints.push({ id: "end", says: "the program did not end with status 0 when its input was closed" });
  }
  return {
    vectors,
    command,
    greeting,
    places: greeting.can.includes(PLACES),
    outcomes,
    rounds: [],
    complaints,
    groups: countGroups(cases, declared, outcomes),
    restarts: session.restarts,
  };
}

/** Judges one exchange. */
export function outcomeOf(asked: ReplayCase, exchange: Exchange, places: boolean, listed: boolean): Outcome {
  if (exchange.kind === "lost") {
    const { loss, says } = exchange;
    return { asked, wrong: "must", differences: [], answer: null, lost: { loss, says }, field: asked.about, listed };
  }
  const judgement = judge(asked.expected, exchange.text, places);
  const { differences } = judgement;
  if (differences.length === 0) {
    return { asked, wrong: null, differences, answer: exchange.text, lost: null, field: null, listed };
  }
  const wrong = differences.some(({ level }) => level === "must") ? "must" : "should";
  return { asked, wrong, differences, answer: exchange.text, lost: null, field: concernOf(asked, judgement), listed };
}

function greetingComplaints({ fingerprint, unknown, can }: Greeting): Complaint[] {
  const own = formatFingerprint(layout.fingerprint);
  const complaints = unknown.map((word) => ({
    id: "declared",
    says: `declares ${word}, which the contract does not have`,
  }));
  if (fingerprint !== own) {
    complaints.push({
      id: "fingerprint",
      says: `the program was written for specification ${fingerprint}, the vectors for ${own}`,
    });
  }
  if (can.filter((word) => word !== PLACES).length === 0)
    complaints.push({ id: "declared", says: "declares nothing that can be asked" });
  return complaints;
}

/** A list cannot go stale: what it names must have been asked and must fail. */
function listComplaints(
  outcomes: readonly Outcome[],
  cases: readonly ReplayCase[],
  others: ReadonlySet<string>,
  listed: ExpectedFailures,
): Complaint[] {
  const byId = new Map(outcomes.map((outcome) => [outcome.asked.id, outcome]));
  const known = new Set(cases.map(({ id }) => id));
  return [...listed].flatMap(([id, line]) => {
    const outcome = byId.get(id);
    const about = `line ${line} of the expected failures, ${id},`;
    if (outcome) return outcome.wrong === null ? [{ id, says: `${about} passes: take it off the list` }] : [];
    if (known.has(id)) return [{ id, says: `${about} was not asked: take it off the list` }];
    return others.has(id) ? [] : [{ id, says: `${about} is no case of these vectors` }];
  });
}

function countGroups(
  cases: readonly ReplayCase[],
  declared: readonly ReplayCase[],
  outcomes: readonly Outcome[],
): GroupCount[] {
  const groups = [...new Set(cases.map(({ group }) => group))];
  return groups.map((group) => {
    const own = outcomes.filter(({ asked }) => asked.group === group);
    const wanted = declared.filter((asked) => asked.group === group).length;
    const count = (test: (outcome: Outcome) => boolean) => own.filter(test).length;
    return {
      group,
      asked: own.length,
      right: count(({ wrong }) => wrong === null),
      must: count(({ wrong, listed }) => wrong === "must" && !listed),
      should: count(({ wrong, listed }) => wrong === "should" && !listed),
      listed: count(({ wrong, listed }) => wrong !== null && listed),
      undeclared: cases.filter((asked) => asked.group === group).length - wanted,
      skipped: wanted - own.length,
    };
  });
}
