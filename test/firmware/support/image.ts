/** Builds images from the firmware and a harness, and runs them. */
import { writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { firmwareFolder, harnessFolder, run, workFolder } from "./program.ts";
import type { SealTable, Target } from "./targets.ts";

/** Where the firmware and the harness find their headers. */
export const includes = ["-I", firmwareFolder, "-I", harnessFolder, "-I", "."];

export const firmwareSource = join(firmwareFolder, "plyframe.c");

/** A harness program by its file name in test/firmware/harness. */
export function harness(name: string): string {
  return join(harnessFolder, name);
}

/** Compiles one source to an object in `folder`, and returns the object's name. */
export function compileObject(target: Target, source: string, folder: string, options: readonly string[]): string {
  const object = `${basename(source)}.o`;
  const standard = source.endsWith(".c") ? [source === firmwareSource ? "-std=c99" : "-std=gnu99"] : [];
  const args = [...target.core, ...standard, "-Os", "-ffunction-sections", ...includes, ...options];
  run(target.compiler, [...args, "-c", source, "-o", object], folder);
  return object;
}

/** Links the firmware with harness sources to `image` in a folder of its own, and returns the folder. */
export function buildImage(
  target: Target,
  sources: readonly string[],
  sealTable: SealTable,
  files: Readonly<Record<string, string>> = {},
  options: readonly string[] = [],
): string {
  const folder = workFolder();
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  const all = [firmwareSource, ...sources, ...target.support];
  const objects = all.map((source) =>
    compileObject(target, source, folder, [`-DPLY_SEAL_TABLE=${sealTable}`, ...options]),
  );
  const driver = target.linker === target.compiler;
  const link = driver ? [...target.core, "-Wl,--gc-sections", ...target.link] : ["--gc-sections", ...target.link];
  run(target.linker, [...link, ...objects, "-o", "image"], folder);
  return folder;
}

/** Runs an image and returns the lines it printed. */
export function runImage(target: Target, folder: string, options: readonly string[] = []): string[] {
  const { stdout, stderr } = run(target.runner, [...target.runnerArgs, ...options], folder);
  switch (target.emulator) {
    case "qemu":
      return (stdout + stderr).trim().split(/\r?\n/);
    case "simavr":
      return [...(stdout + stderr).matchAll(/O:(.*)/g)].map(([, line]) => line!.trim());
    case "mspdebug":
      return consoleLines(stdout);
  }
}

/** What the MSP430 simulator is told: run to the end, then dump the console's words. */
export function dumpCommands(words: number): string {
  return ["prog image", "setbreak console_done", "run", `md 0x1400 ${2 * words}`, "exit", ""].join("\n");
}

/** Words the MSP430's console can hold. */
export const CONSOLE_WORDS = 9216;

/** Lines in a dump of the MSP430's console: the number of values, then each as two words, the high one first. */
function consoleLines(dump: string): string[] {
  const bytes = [...dump.matchAll(/^ {4}[0-9a-f]{5}: ((?:[0-9a-f]{2} )+) *\|/gm)].flatMap(([, run]) =>
    run!.trim().split(" "),
  );
  const word = (at: number) => Number.parseInt(`${bytes[2 * at + 1]}${bytes[2 * at]}`, 16);
  const lines: string[] = [];
  for (let at = 0; 2 * at + 1 < bytes.length && word(at) > 0; ) {
    const count = word(at++);
    const values = Array.from({ length: count }, (_, i) => word(at + 2 * i) * 0x10000 + word(at + 2 * i + 1));
    lines.push(values.map((value) => value.toString(16)).join(" "));
    at += 2 * count;
  }
  return lines;
}
