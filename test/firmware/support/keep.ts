/** Files that a command writes when it is asked to. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "./program.ts";

/** With `--write` on the command line and nothing left out, writes the texts to their paths from the root. */
export function keepIfAsked(files: Readonly<Record<string, string>>): void {
  if (!process.argv.includes("--write")) return;
  for (const [path, text] of Object.entries(files)) {
    if (process.exitCode) console.error(`${path} is not written: something was left out`);
    else writeFileSync(join(root, path), text);
  }
}
