/** Readings of a tag beside those of a reference device at the same site. */

import { PASCAL_PER_MMHG } from "../readings/pressure.ts";
import { parsePressureTable } from "./pressure-table.ts";
import type { ProblemList } from "./problem-list.ts";
import { median } from "./robust.ts";
import { labelOf, type Series } from "./series.ts";

export interface ReferencePair {
  readonly site: string;
  readonly timeMs: number;
  readonly tagMmhg: number;
  readonly referenceMmhg: number;
}

/** What a reference device at a limb can show: from 20 mmHg of suction to 300 mmHg. */
const RULES = { needs: ["site"], lowPa: -20 * PASCAL_PER_MMHG, highPa: 300 * PASCAL_PER_MMHG } as const;

/** A tag's counterpart of a row is the median of its readings within `windowS`. A row without one is named. */
export function referencePairs(
  text: string,
  name: string,
  series: readonly Series[],
  windowS: number,
  problems: ProblemList,
): ReferencePair[] {
  const rows = parsePressureTable(text, name, RULES, problems);
  const tags = series.map(({ tag }) => tag);
  const seen = new Map<string, number>();
  return rows.flatMap(({ line, timeMs, pressurePa, cells }): ReferencePair[] => {
    const site = cells.site!;
    const found = series.find(({ tag }) => tag.site === site || labelOf(tag, tags) === site);
    const key = `${site}@${timeMs}`;
    const earlier = seen.get(key);
    if (!found) problems.reject(`${name}:${line}: site "${site}" is no site of the session; left out`);
    else if (earlier !== undefined)
      problems.reject(`${name}:${line}: site and time of line ${earlier} again; left out`);
    if (!found || earlier !== undefined) return [];
    seen.set(key, line);
    const near = found.samples.flatMap((sample) =>
      sample.gaugeMmhg !== null && Math.abs(sample.timeMs - timeMs) <= windowS * 1000 ? [sample.gaugeMmhg] : [],
    );
    if (near.length === 0) {
      problems.reject(`${name}:${line}: no reading of ${site} within ${windowS} s of it; left out`);
      return [];
    }
    return [{ site, timeMs, tagMmhg: median(near), referenceMmhg: pressurePa / PASCAL_PER_MMHG }];
  });
}
