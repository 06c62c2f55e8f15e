/** Debian's Python with a module of its own packages. */
import { spawnSync } from "node:child_process";
import { describe, expect, it } from "vitest";

const PROGRAM = "/usr/bin/python3";

/** What a Python program prints, given JSON on its standard input. Throws when it fails. */
export function runPython(code: string, input: unknown): string {
  const { status, stdout, stderr } = spawnSync(PROGRAM, ["-c", code], {
    input: JSON.stringify(input),
    encoding: "utf8",
  });
  if (status !== 0) throw new Error(stderr);
  return stdout;
}

/** Runs `suite` when the module can be imported; otherwise a skipped test says so by name, and with CI=true a failing one. */
export function needsPython(module: string, suite: () => void): void {
  if (spawnSync(PROGRAM, ["-c", `import ${module}`], { stdio: "ignore" }).status === 0) suite();
  else if (process.env.CI === "true") it(`python3-${module} is installed`, () => expect.fail("it is not"));
  else describe.skip(`SKIPPED: python3-${module} is not installed`, suite);
}
