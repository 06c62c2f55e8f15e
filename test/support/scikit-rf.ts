/** scikit-rf (Debian: python3-scikit-rf) as another program to compare with. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { needsPython, runPython } from "./debian-python.ts";

interface Curve {
  readonly frequencyHz: readonly number[];
  readonly re: readonly number[];
  readonly im: readonly number[];
}

export interface Asked {
  readonly samples?: true;
  readonly texts?: readonly string[];
  /** Source resistance and reactance, load resistance and reactance. */
  readonly pairs?: readonly (readonly [number, number, number, number])[];
  /** Henry, hertz, load resistance and reactance. */
  readonly inductors?: readonly (readonly [number, number, number, number])[];
}

export interface Answered {
  readonly samples: readonly (Curve & { readonly path: string; readonly name: string })[];
  readonly texts: readonly Curve[];
  readonly tau: readonly number[];
  readonly inductors: readonly (readonly [number, number])[];
}

const PROGRAM = readFileSync(join(import.meta.dirname, "scikit_rf.py"), "utf8");

/** What scikit-rf says; what was not asked for is not in the answer. */
export function askScikitRf(asked: Asked): Answered {
  // It may say beside the answer that it misses a package for plots.
  return JSON.parse(runPython(PROGRAM, asked).trim().split("\n").at(-1)!);
}

export function needsScikitRf(suite: () => void): void {
  needsPython("skrf", suite);
}
