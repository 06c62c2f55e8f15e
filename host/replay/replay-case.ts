/** One question to the program under test with the one right answer. */
import type { Pairs } from "./answer.ts";

/** Must: a wrong number or verdict. Should: where in the bytes, and what was noticed on the way. */
export type Level = "must" | "should";

/** One key of the right answer. */
export interface ExpectedKey {
  readonly key: string;
  readonly text: string;
  readonly level: Level;
  /** May be left out; wrong when it is given and differs. */
  readonly optional: boolean;
}

/** The right answer; `reason` of the closed list when it is bad, else null. */
export interface Expected {
  readonly verdict: "good" | "bad";
  readonly reason: string | null;
  readonly keys: readonly ExpectedKey[];
  /** The vector says nothing of other keys: they are not judged. */
  readonly open?: boolean;
}

export interface ReplayCase {
  /** The vector's id; a verb behind a colon where one vector asks two questions. */
  readonly id: string;
  /** The vector file's name without its ending. */
  readonly group: string;
  readonly why: string;
  /** What a program must declare to be asked. */
  readonly needs: string;
  readonly verb: string;
  readonly given: Pairs;
  readonly expected: Expected;
  /** The record or thing the question is about, for naming the field at fault. */
  readonly about: string;
}

/** A key the answer must hold. */
export function must(key: string, text: string | number): ExpectedKey {
  return { key, text: `${text}`, level: "must", optional: false };
}

/** A key the answer may hold, and then with this text. */
export function may(key: string, text: string | number): ExpectedKey {
  return { key, text: `${text}`, level: "must", optional: true };
}

/** A key that a program which names places gives. */
export function should(key: string, text: string | number | null): ExpectedKey {
  return { key, text: text === null ? "none" : `${text}`, level: "should", optional: false };
}

/** A key that may be given beside the places. */
export function hint(key: string, text: string | number | null): ExpectedKey {
  return { key, text: text === null ? "none" : `${text}`, level: "should", optional: true };
}

export function goodAnswer(keys: readonly ExpectedKey[]): Expected {
  return { verdict: "good", reason: null, keys };
}

/** A good answer of which only these keys are known. */
export function openAnswer(keys: readonly ExpectedKey[]): Expected {
  return { ...goodAnswer(keys), open: true };
}

/** Where and why; `more` for what a verb adds. */
export function badAnswer(
  reason: string,
  place: { readonly byte: number | null; readonly bit: number | null; readonly path: string },
  more: readonly ExpectedKey[] = [],
): Expected {
  const keys = [should("byte", place.byte), should("path", place.path), hint("bit", place.bit), ...more];
  return { verdict: "bad", reason, keys };
}

/** A whole answer that would be right, as the contract writes it: for reports. */
export function rightAnswer({ verdict, reason, keys }: Expected): string {
  return [verdict, ...(reason === null ? [] : [reason]), ...keys.map(({ key, text }) => `${key}=${text}`)].join(" ");
}
