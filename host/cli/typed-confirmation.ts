import { createInterface } from "node:readline";
import { CommandError, EXIT } from "./exit.ts";
import { note } from "./terminal.ts";

/** Asks on standard error and goes on only when the line typed on standard input is `wanted`; a CommandError otherwise. */
export async function confirmed(question: string, wanted: string): Promise<void> {
  const lines = createInterface({ input: process.stdin, output: process.stderr, terminal: false });
  note(question);
  let typed = "";
  for await (const line of lines) {
    typed = line;
    break;
  }
  lines.close();
  if (typed.trim().toLowerCase() !== wanted) {
    throw new CommandError(EXIT.usage, "not confirmed: nothing was written");
  }
}
