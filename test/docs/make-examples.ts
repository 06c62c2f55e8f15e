/**
 * Rewrites what the exact examples in the documents print; a block with a `...` line keeps its first and last lines where
 * they are, and one marked as differing from run to run is left alone. Run by npm run examples.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { makeDesk } from "./desk.ts";
import { documents } from "./documents.ts";
import { type Example, examplesOf } from "./examples.ts";

const desk = makeDesk();

/** What is printed, cut as the old block was: so many lines before each `...` and after the last. */
function cut({ expected }: Example, printed: readonly string[]): readonly string[] {
  const at = expected.indexOf("...");
  if (at < 0) return printed;
  const after = expected.length - at - 1;
  return [...printed.slice(0, at), "...", ...printed.slice(printed.length - after)];
}

for (const file of documents) {
  const lines = readFileSync(file, "utf8").split("\n");
  for (const example of examplesOf(file, lines.join("\n")).reverse()) {
    if (!example.shape) lines.splice(example.line, example.expected.length, ...cut(example, desk.run(example.command)));
  }
  writeFileSync(file, lines.join("\n"));
}
desk.clear();
