/** A recording played to the bench page at the pace of its own clock. */
import { setTimeout as pause } from "node:timers/promises";
import { layout } from "../../../protocol/index.ts";
import type { AmbientSource } from "../../readings/ambient.ts";
import { ReadingStream } from "../../readings/reading-stream.ts";
import type { BenchFeed } from "../../view/bench-feed.ts";
import { PresenceTable } from "../presence.ts";
import type { Recording } from "../recording.ts";
import { note } from "../terminal.ts";
import { shownPresence } from "./shown-presence.ts";

/**
 * Plays to the end, or until `stop`. `speed`: seconds of the recording in a second. Resolves to the number of records that could
 * not be read, each of which was told; throws what reading the file throws.
 */
export async function replay(
  recording: Recording,
  ambient: AmbientSource,
  speed: number,
  feed: BenchFeed,
  stop: AbortSignal,
): Promise<number> {
  let readings = new ReadingStream(layout, { started: null, barometerUncertaintyPa: null }, ambient);
  // A recording does not say how often was asked.
  let presence = new PresenceTable(null);
  /** Wall time at which kit time 0 would have been. */
  let zeroMs: number | null = null;
  let rejected = 0;
  feed.began();
  for await (const item of recording.items) {
    if (stop.aborted) break;
    if ("session" in item || "header" in item) {
      readings = new ReadingStream(layout, "session" in item ? item.session : item.header, ambient);
      presence = new PresenceTable(null);
      zeroMs = null;
      feed.began();
    } else if ("notice" in item) note(`plyframe: ${item.notice.sentence}`);
    else if ("reject" in item) {
      rejected++;
      if (item.reject.becauseOf === null) note(`plyframe: ${item.reject.sentence}`);
    } else if ("report" in item) {
      const { report } = item;
      const dueMs = report.kitTimeUs / 1000 / speed;
      zeroMs ??= performance.now() - dueMs;
      const waitMs = zeroMs + dueMs - performance.now();
      if (waitMs > 1) await pause(waitMs, undefined, { signal: stop }).catch(() => undefined);
      if (stop.aborted) break;
      feed.report(report);
      for (const outcome of readings.push(report)) feed.outcome(outcome);
      if (report.kind === "read") presence.add(report);
      feed.present(shownPresence(presence.at(report.kitTimeUs)));
    }
  }
  return rejected;
}
