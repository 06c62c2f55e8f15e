/** Compares an answer with the right one. */
import { type Answer, clipped, parseAnswer } from "./answer.ts";
import type { Expected, ExpectedKey, Level } from "./replay-case.ts";

/** One thing that differs. `key` is "verdict", "reason" or a key of the answer; "answer" when it cannot be read. */
export interface Difference {
  readonly level: Level;
  readonly key: string;
  readonly expected: string;
  readonly came: string;
}

/** Judgement of an answer: what differs, and the path the answer itself named. */
export interface Judgement {
  readonly differences: readonly Difference[];
  /** The answer's own verdict and path, for finding the field concerned. */
  readonly answer: Answer | null;
}

/** `places`: whether keys of level should are asked for; without it they are not looked at. */
export function judge(expected: Expected, text: string, places: boolean): Judgement {
  const answer = parseAnswer(text);
  if (typeof answer === "string")
    return { differences: [differ("answer", "a line of the contract", answer)], answer: null };
  const wrong = verdictDifference(expected, answer);
  if (wrong || answer.verdict === "unsupported") return { differences: [wrong!], answer };
  const judged = expected.keys.filter(({ level }) => level === "must" || places);
  const differences = judged.map((key) => keyDifference(key, answer.pairs.get(key.key)));
  const strange = expected.open
    ? []
    : [...answer.pairs].filter(([key]) => !expected.keys.some((asked) => asked.key === key));
  return {
    differences: [
      ...differences.filter((difference) => difference !== null),
      ...strange.map(([key, came]) => differ(key, "no such key", clipped(came))),
    ],
    answer,
  };
}

function verdictDifference({ verdict, reason }: Expected, answer: Answer): Difference | null {
  if (answer.verdict !== verdict) {
    const came = answer.verdict === "bad" ? `bad ${answer.reason}` : answer.verdict;
    return differ("verdict", reason === null ? verdict : `${verdict} ${reason}`, came);
  }
  return answer.verdict === "bad" && answer.reason !== reason ? differ("reason", reason!, answer.reason) : null;
}

function keyDifference({ key, text, level, optional }: ExpectedKey, came: string | undefined): Difference | null {
  if (came === text || (came === undefined && optional)) return null;
  return { level, key, expected: clipped(text), came: came === undefined ? "nothing" : clipped(came) };
}

function differ(key: string, expected: string, came: string): Difference {
  return { level: "must", key, expected, came };
}
