/** A separate log of the ambient pressure, merged into a session by time. */
import { type PressureRow, parsePressureTable } from "./pressure-table.ts";
import type { ProblemList } from "./problem-list.ts";

/** Ambient pressures of this planet's surface, as for a typed one. */
const RULES = { needs: [], lowPa: 26_000, highPa: 126_000 } as const;

export interface LogGap {
  readonly fromMs: number;
  readonly toMs: number;
}

export class AmbientLog {
  readonly gaps: readonly LogGap[];
  readonly #rows: readonly PressureRow[];
  readonly #maxGapMs: number;
  #last = 0;

  /** `name` is what messages call the log; two rows further apart than `maxGapS` have a gap between them. */
  constructor(text: string, name: string, maxGapS: number, problems: ProblemList) {
    const rows = parsePressureTable(text, name, RULES, problems);
    const kept: PressureRow[] = [];
    for (const row of rows) {
      const before = kept.at(-1);
      if (before && row.timeMs === before.timeMs) {
        const same = row.pressurePa === before.pressurePa;
        problems.reject(
          `${name}:${row.line}: the time of line ${before.line} again, ${same ? "same" : "another"} pressure; left out`,
        );
      } else if (before && row.timeMs < before.timeMs) {
        problems.reject(`${name}:${row.line}: earlier than line ${before.line}; left out`);
      } else kept.push(row);
    }
    this.#maxGapMs = maxGapS * 1000;
    this.gaps = kept.slice(1).flatMap((row, i) => {
      const fromMs = kept[i]!.timeMs;
      return row.timeMs - fromMs > this.#maxGapMs ? [{ fromMs, toMs: row.timeMs }] : [];
    });
    for (const { fromMs, toMs } of this.gaps) {
      problems.add(
        `${name}: nothing from ${iso(fromMs)} to ${iso(toMs)}: gauge pressures there have no known uncertainty`,
      );
    }
    if (kept.length === 0) problems.add(`${name}: no usable row: absolute pressure only`);
    this.#rows = kept;
  }

  /**
   * Pressure at a time, between two rows by straight line; in a gap, and outside the log, that of the row before with its
   * own time, so that its age shows. Null before the first row. Fastest when asked in the order of time.
   */
  at(timeMs: number): { readonly pressurePa: number; readonly timeMs: number } | null {
    const rows = this.#rows;
    if (rows.length === 0 || timeMs < rows[0]!.timeMs) return null;
    if (timeMs < rows[this.#last]!.timeMs) this.#last = 0;
    while (this.#last + 1 < rows.length && rows[this.#last + 1]!.timeMs <= timeMs) this.#last++;
    const before = rows[this.#last]!;
    const after = rows[this.#last + 1];
    if (!after || after.timeMs - before.timeMs > this.#maxGapMs) return before;
    const share = (timeMs - before.timeMs) / (after.timeMs - before.timeMs);
    return { timeMs, pressurePa: before.pressurePa + share * (after.pressurePa - before.pressurePa) };
  }
}

function iso(timeMs: number): string {
  return new Date(timeMs).toISOString();
}
