/** Which targets can be built and run here. */
import { spawnSync } from "node:child_process";
import { type Target, targets } from "./targets.ts";

/** The first program of a target that is not installed; undefined when all are. */
function missingProgram(target: Target): string | undefined {
  return target.programs.find((program) => spawnSync(program, ["-V"], { stdio: "ignore" }).error !== undefined);
}

/** The targets whose programs are all here; each other one is named on stderr, and the exit status becomes 1. */
export function installedTargets(): Target[] {
  return targets.filter((target) => {
    const missing = missingProgram(target);
    if (missing === undefined) return true;
    console.error(`${target.title}: left out, ${missing} is not installed`);
    process.exitCode = 1;
    return false;
  });
}
