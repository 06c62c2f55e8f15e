/** `plyframe report`: one HTML page of a session. */
import { resolve } from "node:path";
import { CommandError, EXIT } from "../exit.ts";
import { openSink } from "../file-sink.ts";
import { openOne } from "../open-sessions.ts";
import { note, say } from "../terminal.ts";

export interface ReportOptions {
  readonly out?: string;
}

export async function reportCommand(file: string, { out }: ReportOptions): Promise<void> {
  if (out !== undefined && resolve(out) === resolve(file)) {
    throw new CommandError(EXIT.usage, `--out ${out}: is the session file itself, which would be overwritten`);
  }
  const result = await openOne(file);
  const { sessionReport } = await import("../../report/session-report.ts");
  const page = sessionReport(result);
  if (out === undefined) {
    say(page.trimEnd());
    return;
  }
  const sink = await openSink(out, "the report is");
  sink.write(page);
  await sink.close();
  note(`The report is in ${out}; it prints on two sheets of A4.`);
}
