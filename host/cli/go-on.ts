/** The command that goes on where a decode was stopped. */
import { nameFrom } from "./out-name.ts";

/** Options of the decode that was stopped, as they were typed. */
export interface GoOn {
  readonly file: string;
  readonly ambient: string;
  readonly site: readonly string[];
  readonly json?: boolean;
  readonly rejects?: string;
  readonly out?: string;
  readonly overwrite?: boolean;
  readonly frames?: boolean;
}

/** As it is to be pasted into a shell. It writes to files of its own: those of the first part stay. */
export function goOnCommand(
  { file, ambient, site, json, rejects, out, overwrite, frames }: GoOn,
  from: number,
): string {
  const words = ["plyframe", "decode", "--from", `${from}`];
  if (frames) words.push("--frames");
  if (ambient !== "kit") words.push("--ambient", ambient);
  for (const one of site) words.push("--site", one);
  if (rejects !== undefined) words.push("--rejects", nameFrom(rejects, from));
  if (json) words.push("--json");
  if (out !== undefined) words.push("--out", nameFrom(out, from));
  if (overwrite) words.push("--overwrite");
  return [...words, file].map(shellWord).join(" ");
}

/** A word as a POSIX shell reads it back. */
function shellWord(word: string): string {
  return /^[\w@%+=:,./-]+$/.test(word) ? word : `'${word.replaceAll("'", `'\\''`)}'`;
}
