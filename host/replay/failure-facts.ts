/** What every report says of a wrong answer. */
import { requestLine } from "./answer.ts";
import type { Outcome } from "./outcome.ts";
import { rightAnswer } from "./replay-case.ts";
import { anchorOf, MEMORY_MAP } from "./specification-link.ts";

export interface FailureFacts {
  /** One line. */
  readonly message: string;
  /** The request without its id. */
  readonly request: string;
  readonly expected: string;
  readonly came: string;
  readonly field: string;
  readonly specification: string;
}

export function factsOf({ asked, differences, answer, lost, field }: Outcome): FailureFacts {
  const path = field ?? asked.about;
  const differing = differences.map(({ key, expected, came }) => `${key}: expected ${expected}, came ${came}`);
  return {
    message: lost ? `${lost.loss}: ${lost.says}` : differing.join("; "),
    request: requestLine(0, asked.verb, asked.given).slice(2),
    expected: rightAnswer(asked.expected),
    came: answer ?? "nothing",
    field: path,
    specification: `${MEMORY_MAP}#${anchorOf(path)}`,
  };
}
