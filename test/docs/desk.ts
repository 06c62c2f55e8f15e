/** A folder in which examples run: the repository's files in sight, what they write kept out of it. */
import { execFileSync } from "node:child_process";
import { chmodSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const root = resolve(import.meta.dirname, "../..");

export interface Desk {
  /** Lines of both streams of a shell command, in which `plyframe` is the compiled program. */
  run(command: string): string[];
  clear(): void;
}

export function makeDesk(): Desk {
  const desk = mkdtempSync(join(tmpdir(), "plyframe-docs-"));
  for (const name of ["vectors", "protocol", "dist", "package.json", "node_modules"]) {
    symlinkSync(join(root, name), join(desk, name));
  }
  mkdirSync(join(desk, "bin"));
  const program = join(desk, "bin", "plyframe");
  writeFileSync(program, `#!/bin/sh\nexec "${process.execPath}" "${join(root, "dist/command/main.js")}" "$@"\n`);
  chmodSync(program, 0o755);
  const env = { ...process.env, PATH: `${join(desk, "bin")}:${process.env.PATH}`, NO_COLOR: "1" };
  return {
    run: (command) =>
      execFileSync("sh", ["-c", `(${command}) 2>&1; true`], { cwd: desk, env, encoding: "utf8" })
        .replace(/\n$/, "")
        .split("\n")
        .map((line) => line.trimEnd()),
    clear: () => rmSync(desk, { recursive: true, force: true }),
  };
}
