/** A session from the file system: the files it names lie beside it. */
import { createReadStream } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import { dirname, resolve } from "node:path";
import type { Layout } from "../../protocol/index.ts";
import { parseSession } from "./session-file.ts";
import { type SessionResult, workOut } from "./session-result.ts";

/** A file that could not be read, with its name as the session gives it. */
export class SessionFileError extends Error {
  readonly file: string;
  constructor(file: string, cause: unknown) {
    super(`${file} cannot be read`, { cause });
    this.name = "SessionFileError";
    this.file = file;
  }
}

/** Throws a SessionFault for a session file that cannot be used, a SessionFileError for a file that cannot be read. */
export async function openSession(file: string, layout: Layout, software: string): Promise<SessionResult> {
  const text = await readText(file, file);
  const session = parseSession(text, file);
  const folder = dirname(file);
  for (const { file: capture } of session.captures) {
    const status = await stat(resolve(folder, capture)).catch((error: unknown) => {
      throw new SessionFileError(capture, error);
    });
    if (status.isDirectory()) throw new SessionFileError(capture, Object.assign(new Error(), { code: "EISDIR" }));
  }
  return workOut(session, file, layout, software, {
    openCapture: (index) => {
      const { file: capture } = session.captures[index]!;
      return { name: capture, bytes: createReadStream(resolve(folder, capture), { highWaterMark: 1 << 18 }) };
    },
    readText: (name) => readText(resolve(folder, name), name),
  });
}

async function readText(path: string, name: string): Promise<string> {
  try {
    return await readFile(path, "utf8");
  } catch (error) {
    throw new SessionFileError(name, error);
  }
}
