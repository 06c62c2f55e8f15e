/** A run as JSON objects, one a line: the run, every case, every complaint, the totals. */

import { factsOf } from "./failure-facts.ts";
import { fieldsConcerned, isGood, type Outcome, type ReplayResult, totalOf } from "./outcome.ts";

/** Lines in the order in which they are written; names as in vectors/REPLAY.md. */
export function resultRecords(result: ReplayResult): object[] {
  const { vectors, command, greeting, places, outcomes, rounds, complaints, groups, restarts } = result;
  const { group: _, ...total } = totalOf(groups);
  return [
    {
      record: "replay",
      contract: 1,
      vectors_version: vectors.version,
      vectors_sha256: vectors.digest,
      command,
      program: greeting.name,
      program_version: greeting.version,
      fingerprint: greeting.fingerprint,
      can: greeting.can,
      places_judged: places,
    },
    ...outcomes.map(caseRecord),
    ...rounds.map(({ group, asked, seed, outcome, again, keep }) => ({
      record: "round",
      group,
      asked,
      seed,
      again,
      keep,
      smallest: outcome && caseRecord(outcome),
    })),
    ...complaints.map(({ id, says }) => ({ record: "complaint", id, says })),
    ...groups.map((group) => ({ record: "group", ...group })),
    {
      record: "total",
      good: isGood(result),
      ...total,
      complaints: complaints.length,
      restarts,
      fields: fieldsConcerned(result),
    },
  ];
}

function caseRecord(outcome: Outcome): object {
  const { asked, wrong, differences, lost, listed } = outcome;
  const { message: _, request, expected, came, field, specification } = factsOf(outcome);
  return {
    record: "case",
    id: asked.id,
    group: asked.group,
    result: wrong === null ? "right" : lost ? "lost" : "wrong",
    level: wrong,
    listed,
    ...(wrong !== null && {
      why: asked.why,
      request,
      expected,
      came: outcome.answer === null ? null : came,
      lost,
      differences,
      field,
      specification,
    }),
  };
}
