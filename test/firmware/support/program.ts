/** Runs compilers and emulators. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** Root of the repository, with a slash at its end. */
export const root = fileURLToPath(new URL("../../../", import.meta.url));

export const firmwareFolder = join(root, "protocol/firmware");
export const harnessFolder = join(root, "test/firmware/harness");

export interface Outcome {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs a program to its end; five minutes at most, then it is stopped and its status is null. */
export function attempt(program: string, args: readonly string[], cwd: string, input = ""): Outcome {
  const { status, stdout, stderr, error } = spawnSync(program, args, {
    cwd,
    input,
    encoding: "utf8",
    maxBuffer: 2 ** 26,
    timeout: 300_000,
  });
  if (error && status === null && !("code" in error && error.code === "ETIMEDOUT")) throw error;
  return { status, stdout, stderr };
}

/** The same, with the program's own words as the error when its status is not 0. */
export function run(program: string, args: readonly string[], cwd: string, input = ""): Outcome {
  const outcome = attempt(program, args, cwd, input);
  if (outcome.status !== 0)
    throw new Error(`${program} ${args.join(" ")}: status ${outcome.status}\n${outcome.stderr}${outcome.stdout}`);
  return outcome;
}

const folders: string[] = [];

/** A new empty folder that is removed when the process ends. */
export function workFolder(): string {
  if (folders.length === 0)
    process.once("exit", () => {
      for (const folder of folders) rmSync(folder, { recursive: true, force: true });
    });
  const folder = mkdtempSync(join(tmpdir(), "plyframe-firmware-"));
  folders.push(folder);
  return folder;
}

/** First line a program says about its version, without what the distribution adds in brackets. */
export function versionOf(program: string): string {
  const { stdout, stderr } = attempt(program, ["--version"], root);
  return /\d+(?:\.\d+)+/.exec((stdout + stderr).replace(/\([^)]*\)/g, ""))?.[0] ?? "unknown";
}
