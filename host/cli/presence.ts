/** How often each tag was seen: rate, age and missed rounds, from the reports of a reader. */
import type { TagReport } from "../reader/report.ts";
import { MOST_TAGS } from "../readings/reading-stream.ts";
import { RecentMap } from "../readings/recent-map.ts";
import { type Sites, siteName } from "./sites.ts";

export interface Presence {
  readonly epc: string;
  readonly pc: number;
  readonly xpc: number;
  /** Reports of the tag. */
  readonly seen: number;
  /** Of those, reports whose Read failed. */
  readonly failed: number;
  /** Mean strength; null when the reader does not measure it. */
  readonly rssiDbm: number | null;
  /** Sightings a second between the first and the last; null for fewer than two. */
  readonly perSecond: number | null;
  /** Time since the tag was last seen. */
  readonly ageS: number;
  /** Rounds of the period asked for that passed between two sightings, and since the last one, without the tag; null when none was asked for. */
  readonly missed: number | null;
}

interface Seen {
  last: TagReport;
  readonly firstUs: number;
  count: number;
  failed: number;
  missed: number;
  rssiSum: number;
  rssiCount: number;
}

export class PresenceTable {
  readonly #periodUs: number | null;
  readonly #tags = new RecentMap<string, Seen>(MOST_TAGS);

  /** `periodMs`: time from one round to the next; null where the reader goes at its own pace, so that no round can be missed. */
  constructor(periodMs: number | null) {
    this.#periodUs = periodMs === null ? null : periodMs * 1000;
  }

  add(report: TagReport): void {
    const tag = this.#tags.get(report.epc);
    const seen = tag ?? {
      last: report,
      firstUs: report.kitTimeUs,
      count: 0,
      failed: 0,
      missed: 0,
      rssiSum: 0,
      rssiCount: 0,
    };
    seen.missed += this.#missedUntil(seen, report.kitTimeUs);
    seen.last = report;
    seen.count++;
    if (report.result !== "done" && report.result !== "not_asked") seen.failed++;
    if (report.rssiDbm !== null) {
      seen.rssiSum += report.rssiDbm;
      seen.rssiCount++;
    }
    if (!tag) this.#tags.set(report.epc, seen);
  }

  /** Every tag as it stands at kit time `nowUs`, in the order of their first sighting. */
  at(nowUs: number): Presence[] {
    const tags = [...this.#tags.values()].sort((a, b) => a.firstUs - b.firstUs);
    return tags.map((seen) => {
      const { last, firstUs, count, failed, missed, rssiSum, rssiCount } = seen;
      const spanS = (last.kitTimeUs - firstUs) / 1e6;
      return {
        epc: last.epc,
        pc: last.pc,
        xpc: last.xpc,
        seen: count,
        failed,
        rssiDbm: rssiCount === 0 ? null : rssiSum / rssiCount,
        perSecond: spanS > 0 ? (count - 1) / spanS : null,
        ageS: Math.max(0, nowUs - last.kitTimeUs) / 1e6,
        missed: this.#periodUs === null ? null : missed + this.#missedUntil(seen, nowUs),
      };
    });
  }

  /** Whole rounds without the tag; a sighting may come early or late in its round. */
  #missedUntil({ last }: Seen, nowUs: number): number {
    if (this.#periodUs === null) return 0;
    return Math.max(0, Math.round((nowUs - last.kitTimeUs) / this.#periodUs) - 1);
  }
}

/** A tag in one sentence. */
export function presenceLine({ epc, seen, failed, perSecond, ageS, missed }: Presence, sites: Sites): string {
  const rate = perSecond === null ? "" : ` (${perSecond.toFixed(1)}/s)`;
  const rounds = missed === null ? "" : ` ${missed} rounds missed;`;
  return `${siteName(sites, epc)}: seen ${seen} times${rate}, ${failed} of them without the words asked for;${rounds} last seen ${ageS.toFixed(1)} s before the end.`;
}
