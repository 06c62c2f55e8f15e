/** Lines of the replay contract (vectors/REPLAY.md): one request out, one answer back. */

/** Longest answer line in bytes; longer ones are charged as endless. */
export const MAX_ANSWER_BYTES = 65_536;

/** Keys and their text, in the order in which they are written. */
export type Pairs = readonly (readonly [key: string, text: string])[];

/** An answer taken apart. Keys are unique. */
export type Answer =
  | { readonly verdict: "good"; readonly pairs: ReadonlyMap<string, string> }
  | { readonly verdict: "bad"; readonly reason: string; readonly pairs: ReadonlyMap<string, string> }
  | { readonly verdict: "unsupported" };

/** One request line, without its line end. */
export function requestLine(id: number, verb: string, pairs: Pairs): string {
  return [String(id), verb, ...pairs.map(([key, text]) => `${key}=${text}`)].join(" ");
}

/** What is behind the id of an answer line, taken apart; a sentence when it is no answer. */
export function parseAnswer(text: string): Answer | string {
  const [word, ...rest] = text.split(" ");
  if (word === "unsupported") return rest.length === 0 ? { verdict: word } : `more behind "unsupported"`;
  if (word !== "good" && word !== "bad") return `neither good, bad nor unsupported: "${clipped(text)}"`;
  const reason = word === "bad" ? rest.shift() : undefined;
  if (word === "bad" && (reason === undefined || !/^[a-z][a-z0-9-]*$/.test(reason))) return "bad without a reason code";
  const pairs = new Map<string, string>();
  for (const part of rest) {
    const found = /^([a-z][a-z0-9_]*)=(.*)$/.exec(part);
    if (!found) return `no key=value: "${clipped(part)}"`;
    const [, key, value] = found as unknown as [string, string, string];
    if (pairs.has(key)) return `${key} twice`;
    pairs.set(key, value);
  }
  return word === "good" ? { verdict: word, pairs } : { verdict: word, reason: reason!, pairs };
}

/** A text short enough for a sentence. */
export function clipped(text: string, length = 160): string {
  return text.length <= length ? text : `${text.slice(0, length)}… (${text.length} characters)`;
}

/** Text as one word of a line: white space, control characters and what is not ASCII as %xx of its UTF-8 bytes. */
export function escaped(text: string): string {
  return text.replace(/[^!-$&-~]/gu, (character) => encodeURIComponent(character));
}
