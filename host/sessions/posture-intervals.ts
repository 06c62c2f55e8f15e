/** Postures over time, from the events of a session. */
import type { CaptureSpan } from "./merge-captures.ts";
import type { ProblemList } from "./problem-list.ts";
import type { EventKind, Posture, SessionFile } from "./session-file.ts";

export interface PlacedEvent {
  readonly event: EventKind;
  /** UTC, milliseconds since 1970. */
  readonly timeMs: number;
  readonly note: string | null;
}

/** A stretch of time in one posture; `worn` false before the wrapping and after the removal. */
export interface Interval {
  readonly posture: Posture | null;
  readonly fromMs: number;
  readonly toMs: number;
  readonly worn: boolean;
}

/** Host and reader may disagree by this much before it is told. */
const CLOCKS_APART_MS = 2000;

const postureOf: { readonly [event in EventKind]?: Posture } = {
  lay_down: "resting",
  sat_down: "sitting",
  stood_up: "standing",
  walked: "walking",
};

/** Events in the order of time; those that no capture covers are left out and named. */
export function placeEvents(
  { events }: SessionFile,
  spans: readonly CaptureSpan[],
  name: string,
  problems: ProblemList,
): PlacedEvent[] {
  const placed = (events ?? []).flatMap(({ event, at, kit_time_s: kitS, capture, note }, index): PlacedEvent[] => {
    const place = `${name}: /events/${index} (${event})`;
    const span = spans.find((one) => one.capture === (capture ?? 0));
    const byReader = kitS === undefined || !span ? null : span.clock.utcMs(kitS * 1e6);
    const byHost = at === undefined ? null : Date.parse(at);
    if (kitS !== undefined && byReader === null && byHost === null) {
      problems.add(`${place}: its capture holds no report, so kit_time_s cannot be placed; left out`);
      return [];
    }
    if (byReader !== null && byHost !== null && Math.abs(byReader - byHost) > CLOCKS_APART_MS) {
      const apartS = ((byHost - byReader) / 1000).toFixed(1);
      problems.add(
        `${place}: ${at} by the host is ${apartS} s from kit_time_s ${kitS} by the reader: one of the two clocks jumped; the reader's is taken`,
      );
    }
    return [{ event, timeMs: byReader ?? byHost!, note: note ?? null }];
  });
  const sorted = [...placed].sort((a, b) => a.timeMs - b.timeMs);
  if (sorted.some((event, i) => event !== placed[i]))
    problems.add(`${name}: /events are not in the order of time; sorted`);
  sorted.forEach((event, i) => {
    const before = sorted[i - 1];
    if (before && before.timeMs === event.timeMs && before.event !== "note" && event.event !== "note") {
      problems.add(`${name}: events ${before.event} and ${event.event} have the same time`);
    }
  });
  return sorted;
}

/** From first to last report without a hole. */
export function intervalsOf(
  events: readonly PlacedEvent[],
  initial: Posture | null,
  fromMs: number,
  toMs: number,
): Interval[] {
  const intervals: Interval[] = [];
  let posture = initial;
  let worn = !events.some(({ event, timeMs }) => event === "wrapped" && timeMs > fromMs);
  let since = fromMs;
  const close = (untilMs: number) => {
    const end = Math.min(untilMs, toMs);
    if (end > since) intervals.push({ posture, fromMs: since, toMs: end, worn });
    since = Math.max(since, end);
  };
  for (const { event, timeMs } of events) {
    if (event === "note") continue;
    close(timeMs);
    if (event === "wrapped") worn = true;
    else if (event === "removed") worn = false;
    posture = postureOf[event] ?? posture;
  }
  close(toMs);
  return intervals;
}
