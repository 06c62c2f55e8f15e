/** The formal model of the commit, run by SPIN in several shapes, and what each of them must show. */
import { execFileSync } from "node:child_process";
import { copyFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** A property of commit.pml: P1 no mix is accepted, P2 nothing committed is lost, P3 a reader never goes back. */
export type Property = "P1" | "P2" | "P3";

export interface Shape {
  readonly name: string;
  readonly switches: readonly string[];
  /** The property this shape must be seen to break; null for the design, in which all hold. */
  readonly breaks: Property | null;
}

export interface Outcome {
  readonly shape: Shape;
  readonly broken: Property | null;
  readonly states: number;
  /** The search ended by itself, so that what holds holds in every state. */
  readonly complete: boolean;
}

export const shapes: readonly Shape[] = [
  { name: "the design", switches: [], breaks: null },
  { name: "the design, seal accepts any mix", switches: ["LYING"], breaks: null },
  { name: "the design, two cuts, seal accepts any mix", switches: ["LYING", "CUTS=2", "READS=1"], breaks: null },
  { name: "no second look, honest seal", switches: ["NO_RECHECK"], breaks: null },
  { name: "no second look, seal accepts any mix", switches: ["LYING", "NO_RECHECK"], breaks: "P1" },
  { name: "no high-water mark", switches: ["NO_HIGH_WATER"], breaks: "P3" },
  { name: "no invalidation first", switches: ["LYING", "WRONG=1"], breaks: "P1" },
  { name: "commit word before the data", switches: ["LYING", "WRONG=2"], breaks: "P1" },
  { name: "one slot only", switches: ["WRONG=3"], breaks: "P2" },
  { name: "sequence before the data", switches: ["LYING", "WRONG=4"], breaks: "P1" },
];

/** Text of the assertion that stands for each property in the verifier's report. */
const assertions: readonly (readonly [Property, RegExp])[] = [
  ["P1", /assertion violated \(\(r1\[s\]==rd\[s\]\)/],
  ["P2", /assertion violated \(*okA&&/],
  ["P3", /assertion violated \( ?!\(known\)/],
];

/** Needs spin and gcc. Throws when the model does not compile. */
export function verify(shape: Shape): Outcome {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-model-"));
  const run = (program: string, args: readonly string[]) =>
    execFileSync(program, args, { cwd: folder, encoding: "utf8" });
  try {
    copyFileSync(join(import.meta.dirname, "commit.pml"), join(folder, "commit.pml"));
    run("spin", ["-a", ...shape.switches.map((name) => `-D${name}`), "commit.pml"]);
    run("gcc", ["-O2", "-w", "-DSAFETY", "-DCOLLAPSE", "-o", "pan", "pan.c"]);
    const report = run("./pan", ["-m200000", "-w24"]);
    const broken = assertions.find(([, text]) => text.test(report))?.[0] ?? null;
    if (/errors: [1-9]/.test(report) && broken === null) throw new Error(`an assertion nobody named:\n${report}`);
    return {
      shape,
      broken,
      states: Number(/(\d+) states, stored/.exec(report)?.[1] ?? 0),
      complete: !/max search depth too small|Search not completed/.test(report) && /errors: 0/.test(report),
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
