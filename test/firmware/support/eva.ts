/** Frama-C's Eva over the firmware's decoders and encoders. */
import { join } from "node:path";
import { firmwareSource } from "./image.ts";
import { firmwareFolder, root, run, workFolder } from "./program.ts";
import type { SealTable } from "./targets.ts";

/** C's integers as a 16-bit and as a 32-bit compiler has them. */
export const machines = ["gcc_x86_16", "gcc_x86_32"] as const;

interface Verdict {
  /** What may go wrong, in Eva's words; empty when nothing can. */
  readonly alarms: readonly string[];
  readonly statementsReached: number;
  readonly statements: number;
}

/** Analyses the firmware, or another source in its place. A conversion that C leaves to the compiler is an alarm too. */
export function analyse(machine: string, sealTable: SealTable, source: string = firmwareSource): Verdict {
  const preprocess = `-cpp-extra-args=-I${firmwareFolder} -DPLY_SEAL_TABLE=${sealTable}`;
  const eva = ["-eva", "-eva-precision", "4", "-warn-signed-downcast"];
  const entry = join(root, "test/firmware/eva/eva.c");
  const { stdout } = run("frama-c", ["-machdep", machine, "-c11", preprocess, ...eva, entry, source], workFolder());
  const alarms = [...stdout.matchAll(/^\[eva:alarm\] .*?(\w+\.c:\d+): Warning:\s*([\s\S]*?)(?=^\[|^ {2}-)/gm)].map(
    ([, place, says]) => `${place}: ${says!.replace(/\s+/g, " ").trim()}`,
  );
  const reached = /(\d+) statements reached \(out of (\d+)\)/.exec(stdout);
  const counted = /(\d+) alarms? generated/.exec(stdout);
  if (!reached || !counted) throw new Error(`no summary in what frama-c says:\n${stdout}`);
  if ((Number(counted[1]) === 0) !== (alarms.length === 0))
    throw new Error(`${counted[0]}, but found ${alarms.length}`);
  return { alarms, statementsReached: Number(reached[1]), statements: Number(reached[2]) };
}
