/** A session worked out: its sites, what was found, and what was wrong with it. */
import { formatFingerprint, type Layout } from "../../protocol/index.ts";
import { type Agreement, agreementOf } from "../agreement/bland-altman.ts";
import { AmbientLog } from "./ambient-log.ts";
import { type Gradient, gradientOf } from "./gradient.ts";
import { CaptureMerge, type OpenCapture } from "./merge-captures.ts";
import { type Interval, intervalsOf, type PlacedEvent, placeEvents } from "./posture-intervals.ts";
import { ProblemList } from "./problem-list.ts";
import { type ReferencePair, referencePairs } from "./reference-pairs.ts";
import { labelOf, type Series } from "./series.ts";
import type { SessionFile } from "./session-file.ts";
import { type SiteSummary, summariseSite } from "./site-summary.ts";

export interface SessionResult {
  readonly name: string;
  readonly session: SessionFile;
  readonly fromMs: number;
  readonly toMs: number;
  readonly series: readonly Series[];
  readonly sites: readonly SiteSummary[];
  readonly events: readonly PlacedEvent[];
  readonly intervals: readonly Interval[];
  readonly gradients: readonly Gradient[];
  readonly pairs: readonly ReferencePair[];
  /** Null without a reference, or with too few pairs. */
  readonly agreement: Agreement | null;
  readonly provenance: Provenance;
  /** One sentence each, with its place. */
  readonly problems: readonly string[];
  /** Lines of captures and rows of tables that were left out. */
  readonly rejected: number;
}

/** What goes with every number that leaves the program. */
export interface Provenance {
  readonly software: string;
  readonly layout: number;
  /** Of this program's specification; those of the captures beside it when they differ. */
  readonly fingerprint: string;
  readonly captureFingerprints: readonly string[];
  readonly ambientSource: string;
  readonly captures: readonly string[];
  readonly invented: boolean;
}

/** What a session reads beside its own file. All may throw what the file system says. */
export interface SessionSources {
  readonly openCapture: OpenCapture;
  /** Text of a file that the session names, as it names it. */
  readonly readText: (file: string) => Promise<string>;
}

/** `name` is what messages call the session file; `software` the program and its version. */
export async function workOut(
  session: SessionFile,
  name: string,
  layout: Layout,
  software: string,
  sources: SessionSources,
): Promise<SessionResult> {
  const problems = new ProblemList();
  const log = await ambientLog(session, problems, sources);
  const merged = await new CaptureMerge(session, layout, log, problems).run(sources.openCapture);
  const { series, spans } = merged;
  const fromMs = spans.length === 0 ? 0 : merged.fromMs;
  const toMs = spans.length === 0 ? 0 : merged.toMs;
  const events = placeEvents(session, spans, name, problems);
  for (const { event, timeMs } of events) {
    if (timeMs >= fromMs - 1000 && timeMs <= toMs + 1000) continue;
    const at = new Date(timeMs).toISOString();
    problems.add(`${name}: event ${event} at ${at} lies outside the captures`);
  }
  const intervals = intervalsOf(events, session.posture ?? null, fromMs, toMs);
  const { tags, wraps = [], reference } = session;
  const sites = series.map((one) => summariseSite(one, { tags, intervals, wraps, fromMs, toMs }));
  for (const { label, tag, calibration } of sites) {
    for (const due of calibration.due) problems.add(`tag ${tag.epc} (${label}): ${due}`);
  }
  flagProblems(series, session, problems);
  const pairs =
    reference === undefined
      ? []
      : referencePairs(
          await sources.readText(reference.file),
          reference.file,
          series,
          reference.window_s ?? 2,
          problems,
        );
  return {
    name,
    session,
    fromMs,
    toMs,
    series,
    sites,
    events,
    intervals,
    gradients: gradientsOf(sites),
    pairs,
    agreement: agreementOf(pairs.map(({ tagMmhg, referenceMmhg }) => [tagMmhg, referenceMmhg])),
    provenance: {
      software,
      layout: layout.layout,
      fingerprint: formatFingerprint(layout.fingerprint),
      captureFingerprints: merged.fingerprints,
      ambientSource: ambientText(session),
      captures: session.captures.map(({ file }) => file),
      invented: session.invented === true,
    },
    problems: problems.sentences,
    rejected: problems.rejected,
  };
}

async function ambientLog(
  { ambient }: SessionFile,
  problems: ProblemList,
  { readText }: SessionSources,
): Promise<AmbientLog | null> {
  if (ambient.source !== "log") return null;
  const log = new AmbientLog(await readText(ambient.file!), ambient.file!, ambient.max_gap_s ?? 60, problems);
  if (ambient.expanded_uncertainty_hpa === undefined) {
    problems.add(
      `${ambient.file}: no expanded_uncertainty_hpa in the session file: gauge pressures have no known uncertainty`,
    );
  }
  return log;
}

function ambientText({ ambient }: SessionFile): string {
  const { source, file, epc, pressure_hpa: hpa, expanded_uncertainty_hpa: uncertainty } = ambient;
  const stated = uncertainty === undefined ? "uncertainty not stated" : `U = ${uncertainty} hPa, k = 2`;
  if (source === "kit") return "kit barometer";
  if (source === "log") return `separate log ${file}, merged by time (${stated})`;
  if (source === "tag") return `tag ${epc} outside the dressing`;
  return source === "typed" ? `typed, ${hpa} hPa (${stated})` : "none: absolute pressure only";
}

/** Flags that stand beside many frames and weigh on the numbers. */
function flagProblems(series: readonly Series[], session: SessionFile, problems: ProblemList): void {
  for (const { tag, flags, samples, invalid } of series) {
    const who = `tag ${tag.epc} (${labelOf(tag, session.tags)})`;
    const tell = (id: keyof typeof flags, says: string) => {
      const count = flags[id];
      if (count !== undefined) problems.add(`${who}: ${count} of ${samples.length} frames ${says} [${id}]`);
    };
    if (session.ambient.source !== "none") tell("ambient_missing", "have no ambient pressure: absolute only");
    tell("ambient_old", "are more than a minute from the nearest ambient pressure: uncertainty not known");
    tell("ambient_uncertainty_not_stated", "have an ambient pressure without stated uncertainty");
    tell("temperature_outside_calibration", "are outside the temperatures that the calibration covers");
    tell("gauge_beyond_span", "are beyond the span that the calibration covers");
    tell("calibration_other_sensor", "carry the calibration block of another sensor, which is not used");
    tell("calibration_dated_later", "are from before the date of their calibration");
    tell("sequence_back", "carry an earlier sequence number than the newest seen");
    if (invalid > 0)
      problems.add(`${who}: ${invalid} of ${samples.length} frames carry an invalid flag and no pressure`);
  }
}

/** From each ankle site to each calf site, by the first resting values. */
function gradientsOf(sites: readonly SiteSummary[]): Gradient[] {
  const resting = sites.flatMap(({ label, tag, postures }) => {
    const value = postures.find(({ posture }) => posture === "resting");
    return value ? [{ label, site: tag.site, value }] : [];
  });
  const ankles = resting.filter(({ site }) => site === "B1" || site === "B");
  const calves = resting.filter(({ site }) => site === "C");
  return ankles.flatMap((low) => calves.map((high) => gradientOf([low.label, low.value], [high.label, high.value])));
}
