/** The vectors of this package as questions. */
import { resolve } from "node:path";
import { casesOfFile } from "../../../host/replay/cases-of-file.ts";
import type { ReplayCase } from "../../../host/replay/replay-case.ts";
import { readVectorSet } from "../../../host/replay/vector-set.ts";

export const folder = resolve(import.meta.dirname, "../../../vectors");
export const vectors = readVectorSet(folder);
export const cases: readonly ReplayCase[] = vectors.files.flatMap(casesOfFile);

/** Cases of a group; throws when there is none, so that nothing passes for want of cases. */
export function group(name: string): readonly ReplayCase[] {
  const found = cases.filter((asked) => asked.group === name);
  if (found.length === 0) throw new Error(`there is no group ${name}`);
  return found;
}
