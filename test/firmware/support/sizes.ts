/** Flash, RAM and stack of the firmware on each target, as the compilers and linkers tell them. */
import { basename } from "node:path";
import { readCallGraph, readStackUsage, worstStack } from "./call-graph.ts";
import { compileObject, firmwareSource, harness } from "./image.ts";
import { run, versionOf, workFolder } from "./program.ts";
import { type SealTable, sealNames, type Target } from "./targets.ts";

export interface Sizes {
  readonly target: Target["id"];
  readonly sealTable: SealTable;
  /** Code and constants of the firmware and of what the compiler adds to it, the board's port left out. */
  readonly flashBytes: number;
  /** The firmware's state and its variables. */
  readonly ramBytes: number;
  /** Deepest stack below the caller of ply_start or ply_step, the port's own left out. */
  readonly stackBytes: number;
  /** Functions on that stack, outermost first. */
  readonly deepest: readonly string[];
}

/** What made a row: another version may give other figures. */
export function compilerOf(target: Target): string {
  return `${target.compiler} ${versionOf(target.compiler)}`;
}

export function measureSizes(target: Target, sealTable: SealTable): Sizes {
  const folder = workFolder();
  const options = [`-DPLY_SEAL_TABLE=${sealTable}`];
  const firmware = compileObject(target, firmwareSource, folder, [...options, "-fstack-usage"]);
  const graph = readCallGraph(target, firmware, folder);
  const usage = readStackUsage(folder);
  const bare = compileObject(target, harness("bare.c"), folder, options);
  const extra = target.support
    .filter((source) => basename(source) === "runtime.c")
    .map((source) => compileObject(target, source, folder, []));
  const objects = [firmware, bare, ...extra];
  const driver = target.linker === target.compiler;
  const entry = driver
    ? [...target.core, "-nostartfiles", "-Wl,--gc-sections", "-Wl,-e,main"]
    : ["--gc-sections", ...target.link, "-e", "main"];
  run(target.linker, [...entry, ...objects, "-o", "image"], folder);

  const tag = Number.parseInt(
    /([0-9a-f]+) [BbDdCSs] size_of_ply_tag/.exec(run(target.nm, ["-S", bare], folder).stdout)![1]!,
    16,
  );
  const own = sectionBytes(target, firmware, folder, /^\.(data|bss)/);
  const flash = sectionBytes(target, "image", folder, /^\.(text|rodata|data|init)/);
  const depth = ["ply_start", "ply_step"]
    .map((name) => worstStack(graph, usage, target.returnBytes, name))
    .reduce((most, next) => (next.bytes > most.bytes ? next : most));
  return {
    target: target.id,
    sealTable,
    flashBytes: flash - sectionBytes(target, bare, folder, /^\.(text|rodata|data)/),
    ramBytes: tag + own,
    stackBytes: depth.bytes,
    deepest: depth.path.map((name) => name.replace(/\.(isra|part|constprop)\.\d+$/, "")),
  };
}

function sectionBytes(target: Target, file: string, folder: string, name: RegExp): number {
  const { stdout } = run(target.objdump, ["-h", file], folder);
  const sections = [...stdout.matchAll(/^\s*\d+\s+(\.\S+)\s+([0-9a-f]{8})\s/gm)];
  return sections.reduce((sum, [, section, size]) => sum + (name.test(section!) ? Number.parseInt(size!, 16) : 0), 0);
}

/** A row of the table in protocol/firmware/SIZE.md. */
export function sizeRow(target: Target, sizes: Sizes): string {
  const { sealTable, flashBytes, ramBytes, stackBytes, deepest } = sizes;
  const cells = [
    target.title,
    compilerOf(target),
    sealNames[sealTable],
    flashBytes,
    ramBytes,
    stackBytes,
    deepest.join(" → "),
  ];
  return `| ${cells.join(" | ")} |`;
}

export const SIZE_FILE = "protocol/firmware/SIZE.md";

/** The whole page. */
export function sizePage(rows: readonly string[]): string {
  return `# Size of the firmware

Written by \`npm run firmware-size -- --write\`; a test holds it against the compilers.

Compiled with \`-Os\`. Flash is code and constants of plyframe.c, with what the compiler links to it by itself (copying and
clearing memory, the jump table of a switch), without the board's port. RAM is \`ply_tag\`; plyframe.c has no other variable.
Stack is the deepest below the caller of \`ply_start\` and \`ply_step\`, without the port's own, with return addresses: the
compiler's figure for each function, summed along the calls found in its code; on the emulated cores, whose stack is painted
before every step, no run goes deeper. Bytes.

| Target | Compiler | Seal | Flash | RAM | Stack | Deepest |
|---|---|---|--:|--:|--:|---|
${rows.join("\n")}
`;
}
