/** What a session brought, tag by tag, for the summary at its end. */
import type { Reason } from "../../protocol/index.ts";
import { PASCAL_PER_MMHG, toMmhg } from "../readings/pressure.ts";
import type { Outcome, Reading } from "../readings/reading.ts";
import { MOST_TAGS, type ReadingCounts } from "../readings/reading-stream.ts";
import { type Sites, siteName, siteOrder } from "./sites.ts";
import { columns } from "./terminal.ts";

interface TagTally {
  frames: number;
  repeated: number;
  failed: number;
  bursts: number;
  /** Kit time over which the tag was seen. */
  seconds: number;
  lastUs: number;
  gauge: { low: number; high: number; sum: number; count: number };
  uncertaintyPa: number | null;
}

export class Tally {
  readonly #tags = new Map<string, TagTally>();

  add(outcome: Outcome): void {
    const tag = this.#tag(outcome);
    // A clock that goes back begins another session.
    tag.seconds += Math.max(0, outcome.kitTimeUs - tag.lastUs) / 1e6;
    tag.lastUs = outcome.kitTimeUs;
    if (outcome.kind === "unread") tag.failed++;
    else if (outcome.kind === "waveform") tag.bursts++;
    else if (outcome.quality.includes("repeated")) tag.repeated++;
    else addFrame(tag, outcome);
  }

  /** A table: one row a tag. Pressures are those with a known uncertainty: an uncalibrated one would spoil the extremes. */
  lines(sites: Sites): string[] {
    const head = ["site", "frames", "rate", "repeats", "failed", "bursts", "low", "mean", "high", "U"];
    const rows = siteOrder(sites, this.#tags.keys()).map((epc) => {
      const tag = this.#tags.get(epc);
      if (!tag) return [siteName(sites, epc), "never seen"];
      const { gauge } = tag;
      const mmhg = (value: number) => (gauge.count === 0 ? "-" : value.toFixed(1));
      return [
        siteName(sites, epc),
        `${tag.frames}`,
        tag.frames > 1 && tag.seconds > 0 ? `${(tag.frames / tag.seconds).toFixed(1)}/s` : "-",
        `${tag.repeated}`,
        `${tag.failed}`,
        `${tag.bursts}`,
        mmhg(gauge.low),
        mmhg(gauge.sum / gauge.count),
        mmhg(gauge.high),
        tag.uncertaintyPa === null ? "-" : (tag.uncertaintyPa / PASCAL_PER_MMHG).toFixed(2),
      ];
    });
    if (rows.length === 0) return [];
    const table = columns([head, ...rows], [1, 2, 3, 4, 5, 6, 7, 8, 9]);
    return [...table, "Low, mean, high and U (k = 2) in mmHg, of readings whose uncertainty is known."];
  }

  #tag(outcome: Outcome): TagTally {
    let tag = this.#tags.get(outcome.epc);
    if (!tag) {
      const { kitTimeUs } = outcome;
      const gauge = { low: Infinity, high: -Infinity, sum: 0, count: 0 };
      tag = {
        frames: 0,
        repeated: 0,
        failed: 0,
        bursts: 0,
        seconds: 0,
        lastUs: kitTimeUs,
        gauge,
        uncertaintyPa: null,
      };
      this.#tags.set(outcome.epc, tag);
    }
    return tag;
  }
}

function addFrame(tag: TagTally, reading: Reading): void {
  tag.frames++;
  tag.uncertaintyPa = reading.expandedUncertaintyPa ?? tag.uncertaintyPa;
  if (reading.gauge === null || reading.expandedUncertaintyPa === null) return;
  const mmhg = toMmhg(reading.gauge);
  tag.gauge.low = Math.min(tag.gauge.low, mmhg);
  tag.gauge.high = Math.max(tag.gauge.high, mmhg);
  tag.gauge.sum += mmhg;
  tag.gauge.count++;
}

/** Counts of what was before and of what came after it. */
export function addCounts(before: ReadingCounts | null, after: ReadingCounts): ReadingCounts {
  if (before === null) return after;
  const unread: Partial<Record<Reason, number>> = { ...before.unread };
  for (const [reason, count] of Object.entries(after.unread) as [Reason, number][]) {
    unread[reason] = (unread[reason] ?? 0) + count;
  }
  const sum = { ...before, unread };
  for (const [name, count] of Object.entries(after) as [Exclude<keyof ReadingCounts, "unread">, number][]) {
    if (typeof count === "number") sum[name] += count;
  }
  return sum;
}

/** What happened to the tag reports of one or more sessions, in two sentences that add up. */
export function countsSentence(sessions: readonly ReadingCounts[]): string {
  const sum = (of: (counts: ReadingCounts) => number) => sessions.reduce((total, counts) => total + of(counts), 0);
  const reasons = new Set(sessions.flatMap(({ unread }) => Object.keys(unread) as Reason[]));
  const unread = [...reasons].map((reason) => `${sum((counts) => counts.unread[reason] ?? 0)} ${reason}`);
  const other = sum((counts) => counts.other + counts.sighted);
  const forgotten = sum((counts) => counts.forgottenTags);
  return [
    `${sum((counts) => counts.tagReports)} reads:`,
    `${sum((counts) => counts.readings)} readings of ${sum((counts) => counts.distinctFrames)} frames,`,
    `${sum((counts) => counts.waveforms)} bursts,`,
    `${other} without a frame${other > 0 ? " (calibration and the like)" : ""},`,
    unread.length > 0 ? `${unread.join(", ")}.` : "none failed.",
    `${sum((counts) => counts.ambientReports)} ambient reports.`,
    ...(forgotten > 0 ? [`${forgotten} times a tag was forgotten: more than ${MOST_TAGS} of them.`] : []),
  ].join(" ");
}
