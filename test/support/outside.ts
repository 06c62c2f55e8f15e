/** Programs that are not part of the package. */
import { spawnSync } from "node:child_process";
import { describe, expect, it } from "vitest";

function isInstalled(program: string): boolean {
  return spawnSync("which", [program], { stdio: "ignore" }).status === 0;
}

/**
 * Runs `suite` when the program is installed. Without it a skipped test says so by name, and with CI=true a failing one.
 */
export function needs(program: string, suite: () => void): void {
  if (isInstalled(program)) suite();
  else if (process.env.CI === "true") it(`${program} is installed`, () => expect.fail(`${program} is not installed`));
  else describe.skip(`SKIPPED: ${program} is not installed`, suite);
}
