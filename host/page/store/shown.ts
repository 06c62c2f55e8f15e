/** What a site may show: a number only when it is one. */
import { type QualityId, qualities } from "../../readings/quality.ts";
import { isStale } from "../../readings/stale.ts";
import type { TimedReading } from "../../view/messages.ts";

/** See DESIGN.md for what stands in the large place for each. */
export type Shows = "number" | "unsure" | "absolute" | "invalid" | "stale" | "absent";

export interface Shown {
  readonly shows: Shows;
  /** Age of the newest frame; null when nothing was ever heard. */
  readonly ageS: number | null;
  /** Gauge pressure; null unless the site shows `number`, `unsure` or, as what it last said, `stale`. */
  readonly gaugeMmhg: number | null;
  /** Expanded (k = 2); null when not known. */
  readonly uncertaintyMmhg: number | null;
}

/** How a site stands at session time `nowS`. */
export function shownOf(latest: TimedReading | null, nowS: number): Shown {
  if (latest === null) return { shows: "absent", ageS: null, gaugeMmhg: null, uncertaintyMmhg: null };
  const { reading, time_s } = latest;
  const ageS = reading.age_s + Math.max(0, nowS - time_s);
  const invalid = isInvalid(reading.quality);
  const gaugeMmhg = invalid ? null : reading.gauge_mmhg;
  const uncertaintyMmhg = gaugeMmhg === null ? null : reading.expanded_uncertainty_mmhg;
  const shown = { ageS, gaugeMmhg, uncertaintyMmhg };
  if (isStale(ageS, reading.tag?.sampling_period_s ?? null)) return { ...shown, shows: "stale" };
  if (invalid || reading.absolute_hpa === null) return { ...shown, shows: "invalid" };
  if (gaugeMmhg === null) return { ...shown, shows: "absolute" };
  return { ...shown, shows: uncertaintyMmhg === null ? "unsure" : "number" };
}

/** Whether a flag says that the pressure itself is not to be used. */
export function isInvalid(quality: readonly QualityId[]): boolean {
  return quality.some((id) => qualities[id]?.severity === "invalid");
}
