/** Stack of the duty cycle as an emulated core used it, beside the bound that is summed from the compiler's figures. */

import { type CallGraph, type Depth, readCallGraph, readStackUsage, worstStack } from "./call-graph.ts";
import { buildImage, CONSOLE_WORDS, compileObject, dumpCommands, firmwareSource, harness, runImage } from "./image.ts";
import { workFolder } from "./program.ts";
import type { SealTable, Target } from "./targets.ts";

/** Steps that hold a cold start, frames, counters and a burst. */
const OPTIONS = ["-DSTEPS=130", "-DPLY_BURST_EVERY=3"];

/** Bytes used at most in a run. */
export function measureDepth(target: Target, sealTable: SealTable): number {
  const console = target.emulator === "qemu" ? ["stdout-console.c"] : [];
  const sources = ["depth.c", "used-tag.c", "board.c", ...console].map(harness);
  const files = { "commands.txt": dumpCommands(CONSOLE_WORDS) };
  const folder = buildImage(target, sources, sealTable, files, OPTIONS);
  return Number.parseInt(runImage(target, folder)[0]!, 16);
}

/** The bound for the same run: the firmware with the port of the run. */
export function boundDepth(target: Target, sealTable: SealTable): Depth {
  const folder = workFolder();
  const graphs = [firmwareSource, harness("board.c")].map((source) => {
    const options = [`-DPLY_SEAL_TABLE=${sealTable}`, ...OPTIONS, "-fstack-usage"];
    return readCallGraph(target, compileObject(target, source, folder, options), folder);
  });
  const whole: CallGraph = { calls: new Map(graphs.flatMap(({ calls }) => [...calls])), outside: [] };
  const usage = readStackUsage(folder);
  return ["ply_start", "ply_step"]
    .map((name) => worstStack(whole, usage, target.returnBytes, name))
    .reduce((most, next) => (next.bytes > most.bytes ? next : most));
}
