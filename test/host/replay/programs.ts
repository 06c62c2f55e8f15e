/** Small programs under test, written for one purpose each. */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";

/** What a program that can decode frames says of itself. */
export const GREETING = "good contract=1 name=stub fingerprint=028961a7 can=decode.frame";

/**
 * Command of a program in which `answer(id, verb, given, line)` is called for each request behind hello, with `say(line)` to
 * answer; `before` runs at its start. Requests are lines on stdin.
 */
export function program(answer: string, { before = "", greeting = GREETING } = {}): string[] {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-replay-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const file = join(folder, "program.mjs");
  writeFileSync(
    file,
    `import { createInterface } from "node:readline";
import { existsSync, writeFileSync } from "node:fs";
/** True the first time it is asked in the life of this test, across restarts. */
const firstTime = (name) => { const mark = ${JSON.stringify(folder)} + "/" + name; if (existsSync(mark)) return false; writeFileSync(mark, ""); return true; };
const say = (line) => process.stdout.write(line + "\\n");
${before}
for await (const line of createInterface({ input: process.stdin })) {
  const [id, verb, ...rest] = line.split(" ");
  const given = Object.fromEntries(rest.map((word) => word.split("=")));
  if (verb === "hello") { say(id + ${JSON.stringify(` ${greeting}`)}); continue; }
  ${answer}
}
`,
  );
  return [process.execPath, file];
}
