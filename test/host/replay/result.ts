/** An invented result in which everything happens once. */
import type { Outcome, ReplayResult } from "../../../host/replay/outcome.ts";
import { goodAnswer, must, type ReplayCase } from "../../../host/replay/replay-case.ts";

/** Text that is a tag, an attribute, a directive and no character of XML. */
export const HOSTILE = `<script>alert("1")</script> & 'quotes' # TODO \u0001`;

function outcome(id: string, changes: Partial<Outcome> = {}): Outcome {
  const asked: ReplayCase = {
    id,
    group: "frames",
    why: `Why ${HOSTILE}`,
    needs: "decode.frame",
    verb: "decode",
    given: [
      ["record", "frame"],
      ["bytes", "21"],
    ],
    expected: goodAnswer([must("sequence", 7)]),
    about: "frame",
  };
  return {
    asked,
    wrong: null,
    differences: [],
    answer: "good sequence=7",
    lost: null,
    field: null,
    listed: false,
    ...changes,
  };
}

const wrong = {
  wrong: "must",
  differences: [{ level: "must", key: "sequence", expected: "7", came: "<8>" }],
  answer: "good sequence=<8>",
  field: "frame.sequence",
} as const satisfies Partial<Outcome>;
const lost = {
  wrong: "must",
  answer: null,
  lost: { loss: "silent", says: "no answer within 5 s" },
  field: "frame",
} as const;
const made = outcome("made-slots-7-3", { ...wrong, field: "frame.seal" });

/** One right, one wrong, one lost, one listed; a good round and one that failed; one complaint. */
export const result: ReplayResult = {
  vectors: { version: "1.2.3", digest: "ab".repeat(32) },
  command: ["./reader", "--fast"],
  greeting: { name: `reader ${HOSTILE}`, version: null, fingerprint: "028961a7", can: ["decode.frame"], unknown: [] },
  places: false,
  outcomes: [
    outcome("right"),
    outcome("wrong", wrong),
    outcome("lost", lost),
    outcome("known", { ...wrong, listed: true }),
  ],
  rounds: [
    { group: "made:header", asked: 100, seed: 7, outcome: null, again: null, keep: null },
    {
      group: "made:slots",
      asked: 4,
      seed: 7,
      outcome: made,
      again: "--group made:slots --rounds 100 --seed 7 --path 3",
      keep: "python3 vectors/make/make.py --add made-slots-7-3 slots bytes=00",
    },
  ],
  complaints: [{ id: "end", says: `did not end ${HOSTILE}` }],
  groups: [
    { group: "frames", asked: 4, right: 1, must: 2, should: 0, listed: 1, undeclared: 5, skipped: 0 },
    { group: "made:header", asked: 100, right: 100, must: 0, should: 0, listed: 0, undeclared: 0, skipped: 0 },
    { group: "made:slots", asked: 4, right: 3, must: 1, should: 0, listed: 0, undeclared: 0, skipped: 0 },
  ],
  restarts: 1,
};
