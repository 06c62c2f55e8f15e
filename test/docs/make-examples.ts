/**
 * Rewrites what the exact examples in README.md print; a block with a `...` line keeps its first and last lines where they
 * are, and one marked as differing from run to run is left alone. Run by npm run examples.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { makeDesk } from "./desk.ts";
import { type Example, examplesOf } from "./examples.ts";

const FILE = "README.md";
const desk = makeDesk();
const lines = readFileSync(FILE, "utf8").split("\n");

/** What is printed, cut as the old block was: so many lines before each `...` and after the last. */
function cut({ expected }: Example, printed: readonly string[]): readonly string[] {
  const at = expected.indexOf("...");
  if (at < 0) return printed;
  const after = expected.length - at - 1;
  return [...printed.slice(0, at), "...", ...printed.slice(printed.length - after)];
}

for (const example of examplesOf(FILE, lines.join("\n")).reverse()) {
  if (!example.shape) lines.splice(example.line, example.expected.length, ...cut(example, desk.run(example.command)));
}
desk.clear();
writeFileSync(FILE, lines.join("\n"));
