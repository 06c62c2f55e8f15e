/** Session files as the commands take them: opened, with what is wrong told as messages. */
import { resolve } from "node:path";
import { layout } from "../../protocol/index.ts";
import { openSession, SessionFileError } from "../sessions/open-session.ts";
import { SessionFault } from "../sessions/session-file.ts";
import type { SessionResult } from "../sessions/session-result.ts";
import { CommandError, EXIT, systemSentence } from "./exit.ts";
import { note } from "./terminal.ts";
import { VERSION } from "./version.ts";

/** One session; throws a CommandError when it cannot be used. Left-out lines give the status of rejected records. */
export async function openOne(file: string): Promise<SessionResult> {
  try {
    const result = await openSession(file, layout, `plyframe ${VERSION}`);
    for (const sentence of result.problems) note(`plyframe: ${sentence}`);
    if (result.rejected > 0) process.exitCode ??= EXIT.rejected;
    return result;
  } catch (error) {
    if (error instanceof SessionFault) {
      for (const sentence of error.sentences.slice(0, -1)) note(`plyframe: ${sentence}`);
      throw new CommandError(EXIT.rejected, error.sentences.at(-1)!);
    }
    if (error instanceof SessionFileError) {
      const place = error.file === file ? file : `${file}: ${error.file}`;
      throw new CommandError(EXIT.device, systemSentence(place, error.cause));
    }
    throw error;
  }
}

/** Those of several that can be used; the others are told, and the last one's status is kept. Throws when none can. */
export async function openAll(files: readonly string[]): Promise<SessionResult[]> {
  const results: SessionResult[] = [];
  const seen = new Set<string>();
  let last: CommandError | null = null;
  for (const file of files) {
    if (seen.has(resolve(file))) {
      note(`plyframe: ${file}: given twice; counted once`);
      continue;
    }
    seen.add(resolve(file));
    try {
      results.push(await openOne(file));
    } catch (error) {
      if (!(error instanceof CommandError)) throw error;
      if (last) note(`plyframe: ${last.message}`);
      last = error;
    }
  }
  if (last === null) return results;
  if (results.length === 0) throw last;
  note(`plyframe: ${last.message}`);
  process.exitCode = last.status;
  return results;
}
