/** A tag's access password, changed so that an interrupted change can be finished. */
import type { AccessResult, Reader } from "./reader.ts";

const PLACE = { bank: "reserved", word: 2 } as const;
/** A weakly powered tag is lost now and then: an access is tried this often. */
const TRIES = 8;
const PASSING = ["tag_lost", "tag_power_insufficient"];

/** The two words of a password, upper half first. */
export function passwordWords(password: number): [number, number] {
  return [Math.floor(password / 65_536), password % 65_536];
}

/** The password the tag has of those it may have; null when it has none of them, or why it could not be asked. */
export async function passwordInForce(
  reader: Reader,
  epc: string,
  candidates: readonly number[],
): Promise<number | { readonly failed: string }> {
  let failed = "password_wrong";
  for (const password of new Set(candidates)) {
    const answer = await tried(() => reader.read({ epc, ...PLACE, count: 2, password }));
    // Only whoever gives the right password may read it, and then reads it back; an unlocked one is read by anybody.
    if (answer.result === "done") return answer.words[0]! * 65_536 + answer.words[1]!;
    if (answer.result !== "password_wrong") failed = answer.result;
  }
  return { failed };
}

/**
 * Changes the password from `from` to `to` and reads it back with the new one; null when that is done, otherwise why not. A
 * change that was cut between its two words left the upper half of one and the lower of the other: it is found and finished.
 */
export async function changePassword(reader: Reader, epc: string, from: number, to: number): Promise<string | null> {
  const [upper, lower] = [passwordWords(to)[0], passwordWords(from)[1]];
  const half = upper * 65_536 + lower;
  for (let attempt = 0; attempt < TRIES; attempt++) {
    const now = await passwordInForce(reader, epc, [from, half, to]);
    if (typeof now !== "number") return now.failed;
    if (now === to) return null;
    const answer = await reader.write({ epc, ...PLACE, words: passwordWords(to), password: now });
    if (answer.result !== "done" && !PASSING.includes(answer.result)) return answer.result;
  }
  return "tag_lost";
}

/** Asks again while the tag is lost. */
export async function tried(ask: () => Promise<AccessResult>): Promise<AccessResult> {
  let answer = await ask();
  for (let i = 1; i < TRIES && PASSING.includes(answer.result); i++) answer = await ask();
  return answer;
}
