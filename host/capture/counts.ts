/** Sums and differences of what became of lines. */
import type { Reason } from "../../protocol/index.ts";
import type { CaptureCounts } from "./item.ts";

const TOTALS = ["bytes", "lines", "headers", "read", "ambient", "blank"] as const;
const BY_REASON = ["rejected", "noticed"] as const;

export function noCounts(): CaptureCounts {
  return { bytes: 0, lines: 0, headers: 0, read: 0, ambient: 0, blank: 0, rejected: {}, noticed: {} };
}

export function copyOf(counts: CaptureCounts): CaptureCounts {
  return { ...counts, rejected: { ...counts.rejected }, noticed: { ...counts.noticed } };
}

/** Adds `more` to `sum`. */
export function addCounts(sum: CaptureCounts, more: CaptureCounts): void {
  for (const key of TOTALS) sum[key] += more[key];
  for (const key of BY_REASON) {
    for (const [reason, count] of Object.entries(more[key])) {
      sum[key][reason as Reason] = (sum[key][reason as Reason] ?? 0) + count;
    }
  }
}

/** What came to `now` since it was `before`; reasons that did not are left out. */
export function countsSince(now: CaptureCounts, before: CaptureCounts): CaptureCounts {
  const since = noCounts();
  for (const key of TOTALS) since[key] = now[key] - before[key];
  for (const key of BY_REASON) {
    for (const [reason, count] of Object.entries(now[key])) {
      const more = count - (before[key][reason as Reason] ?? 0);
      if (more > 0) since[key][reason as Reason] = more;
    }
  }
  return since;
}
