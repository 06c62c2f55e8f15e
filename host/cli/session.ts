/** One session with a reader, from opening the port to the summary; `read` and `demo` are sessions. */
import { layout } from "../../protocol/index.ts";
import { CaptureWriter } from "../capture/capture-writer.ts";
import { systemClock } from "../reader/clock.ts";
import type { ReaderInfo } from "../reader/reader.ts";
import { Patience, reopen, type Try } from "../reader/reopen.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";
import type { AmbientSource } from "../readings/ambient.ts";
import type { Outcome } from "../readings/reading.ts";
import { type ReadingCounts, ReadingStream } from "../readings/reading-stream.ts";
import { captureEnd, mendCapture } from "./capture-end.ts";
import { type Connection, type ConnectionOptions, connect, openedPort } from "./connection.ts";
import { CommandError } from "./exit.ts";
import { type FileSink, openSink, refuseExisting, type SinkStart } from "./file-sink.ts";
import { Live } from "./live.ts";
import { type Presence, PresenceTable } from "./presence.ts";
import { paceOf } from "./reader-place.ts";
import { type StopSignals, stopSignals } from "./stop-signals.ts";
import { note, outputGone } from "./terminal.ts";

export interface SessionOptions extends ConnectionOptions {
  readonly ambient: AmbientSource;
  readonly capture: SessionCapture | null;
  readonly linkLog: string | null;
  /** Whether a capture or link log of that name that is there already may be replaced. */
  readonly overwrite: boolean;
  /** Kit time after which the session ends by itself; null: when the port closes or a person stops it. */
  readonly forS: number | null;
  /** How long a port that was lost is tried again. */
  readonly retryS: number;
  /** The reader answered; readings follow. */
  readonly onReady: () => void;
  /** Every report, before what became of it. */
  readonly onReport?: (report: TagReport | AmbientReport) => void;
  readonly onOutcome: (outcome: Outcome) => void;
  /** Time passed, with or without a report; what was seen so far. */
  readonly onTime: (kitTimeUs: number, presence: PresenceTable) => void;
  /** The port was lost, and is tried again. */
  readonly onLost?: (sentence: string) => void;
  /** A try that follows after a wait; why the one before failed, or why the port was lost. */
  readonly onTry?: (next: { readonly attempt: number; readonly waitS: number; readonly sentence: string }) => void;
  /** The port is back; its reader's clock may have begun anew. */
  readonly onBack?: () => void;
}

export interface SessionCapture {
  readonly file: string;
  /** Whether the session goes on in a capture that is there already; left out where no one can ask for it. */
  readonly append?: boolean;
  /** Where the reports come from, in the header; the port's name when left out. */
  readonly source?: string;
  readonly note?: string;
}

export interface SessionResult {
  /** One for each time the port was open. */
  readonly counts: readonly ReadingCounts[];
  /** Why the port was lost, in one sentence; null when the session ended as it should. */
  readonly lost: string | null;
  /** Damaged stretches on the line. */
  readonly faults: number;
  readonly discardedBytes: number;
  /** Reports over connections that were given up before they were of use; in no capture and no reading. */
  readonly unkept: number;
  readonly presence: readonly Presence[];
}

/** How often the end of the session is looked for. */
const LOOK_MS = 20;

/** A connection that lasted so long was a good one, even if it saw no tag. */
const GOOD_S = 5;

/**
 * Throws a CommandError when the session cannot begin; once it has begun it always ends with a result. A port that is lost
 * is tried again for a while; the capture goes on under a header of its own, for the reader's clock may have begun anew.
 */
export async function runSession(options: SessionOptions): Promise<SessionResult> {
  const { retryS } = options;
  checkFiles(options);
  const sinks: FileSink[] = [];
  const sink = async (file: string | null, what: string, from?: SinkStart) => {
    if (file === null) return null;
    const opened = await openSink(file, what, from);
    sinks.push(opened);
    return opened;
  };
  const presence = new PresenceTable(paceOf(options));
  const counts: ReadingCounts[] = [];
  const spoilt = { reports: 0, faults: 0, discardedBytes: 0 };
  let [coveredS, nowUs] = [0, 0];
  let patience = new Patience(retryS * 1000);
  const result = (lost: string | null): SessionResult => {
    const { reports: unkept, faults, discardedBytes } = spoilt;
    return { counts, lost, faults, discardedBytes, unkept, presence: presence.at(nowUs) };
  };
  let stop: StopSignals | undefined;
  try {
    const port = await openedPort(options.port);
    const log = await sink(options.linkLog, "the link log is").catch((error) => {
      port.stream.destroy();
      throw error;
    });
    let connection = await connect(port, options, log, spoilt);
    stop = stopSignals();
    let capture: FileSink | null = null;
    for (;;) {
      const { reader, info, lost } = connection;
      const forS = options.forS === null ? null : options.forS - coveredS;
      try {
        capture ??= await sink(options.capture?.file ?? null, "the capture is", captureStart(options.capture));
        const started = new Date().toISOString();
        const writer = capture && (await startCapture(capture, options, info, started));
        const { barometerUncertaintyPa } = info;
        const readings = new ReadingStream(layout, { started, barometerUncertaintyPa }, options.ambient);
        if (counts.length === 0) options.onReady();
        counts.push(readings.counts);
        const { onReport, onOutcome } = options;
        const hooks = { ...(onReport && { onReport }), onOutcome };
        const live = new Live({ reader, readings, capture: writer, ...hooks });
        reader.on("report", (report) => report.kind === "read" && presence.add(report));
        for (const report of connection.takeEarly()) {
          live.take(report);
          if (report.kind === "read") presence.add(report);
        }
        const onTime = () => options.onTime(live.nowUs, presence);
        const end = await ended(() => lost() !== undefined, stop.signal, live, forS, onTime);
        await reader.close();
        await live.settled();
        coveredS += live.coveredS;
        nowUs = live.nowUs;
        if (readings.counts.tagReports > 0 || live.coveredS > GOOD_S) patience = new Patience(retryS * 1000);
        // What goes away because a person stopped everything is not lost: Ctrl-C reaches an exec: program too.
        const why = end === "gone" ? (lost() ?? null) : null;
        if (why === null || !mayComeBack(options.port)) return result(why);
        const again = async () => connect(await openedPort(options.port), options, log, spoilt);
        const next = await comeBack(again, why, patience, stop.signal, options);
        if (!next) return result(why);
        connection = next;
      } finally {
        await reader.close();
        spoilt.faults += reader.counts.faults;
        spoilt.discardedBytes += reader.counts.discardedBytes;
      }
    }
  } finally {
    stop?.release();
    for (const opened of sinks) await opened.close();
  }
}

/** Throws a CommandError for a file that is there and may be neither replaced nor gone on in. */
function checkFiles({ linkLog, capture, overwrite }: SessionOptions): void {
  if (linkLog !== null && !overwrite) refuseExisting(linkLog);
  if (capture?.append) captureEnd(capture.file);
  else if (capture && !overwrite) refuseExisting(capture.file, capture.append === false);
}

/** Where a capture is written; one that is gone on in is mended before. */
function captureStart(capture: SessionCapture | null): SinkStart {
  if (!capture?.append) return "anew";
  mendCapture(capture.file);
  return "end";
}

/** Tries again to reach a port that was lost, and says so; null when it does not come back in time. */
async function comeBack(
  again: () => Promise<Connection>,
  why: string,
  patience: Patience,
  stop: AbortSignal,
  { port, onLost, onTry, onBack }: SessionOptions,
): Promise<Connection | null> {
  note(`${why}; trying to reach it again`);
  onLost?.(why);
  let [told, tries]: [string | null, number] = [null, 0];
  const tell = ({ attempt, waitMs, failed }: Try) => {
    tries = attempt;
    onTry?.({ attempt, waitS: waitMs / 1000, sentence: failed ?? why });
    // The same reason over and over is told once.
    if (failed !== null && failed !== told) note(`${failed}; next try in ${(waitMs / 1000).toFixed(1)} s`);
    told = failed;
  };
  const sentenceOf = (error: unknown) => (error instanceof CommandError ? error.message : null);
  const next = await reopen(again, { clock: systemClock, patience, stop, sentenceOf, onTry: tell });
  const times = tries === 1 ? "1 try" : `${tries} tries`;
  if (next) {
    note(`${port} is back after ${times}; the readings go on`);
    onBack?.();
  } else if (!stop.aborted && tries > 0) note(`given up after ${times}`);
  return next;
}

/** A program that ended and a recording that is over do not come back. */
function mayComeBack(port: string): boolean {
  return !/^(exec|file):/i.test(port);
}

async function startCapture(
  sink: FileSink,
  options: SessionOptions,
  info: ReaderInfo,
  started: string,
): Promise<CaptureWriter> {
  const { source, note } = options.capture!;
  const writer = new CaptureWriter(sink.stream);
  const header = writer.header({
    version: 1,
    layout: layout.layout,
    fingerprint: layout.fingerprint,
    started,
    source: source ?? options.port,
    barometerUncertaintyPa: info.barometerUncertaintyPa,
    ...(note !== undefined && { note }),
  });
  await header.catch(() => undefined);
  return writer;
}

/** Resolves when the port is gone, the time is over, a person presses Ctrl-C or nobody reads the results any more. */
function ended(
  gone: () => boolean,
  stop: AbortSignal,
  live: Live,
  forS: number | null,
  onTime: () => void,
): Promise<"gone" | "over"> {
  return new Promise((resolve) => {
    const finish = (how: "gone" | "over") => {
      clearInterval(timer);
      stop.removeEventListener("abort", over);
      resolve(how);
    };
    const over = () => finish("over");
    const timer = setInterval(() => {
      if (gone()) finish("gone");
      else if (outputGone() || (forS !== null && live.coveredS >= forS)) finish("over");
      else onTime();
    }, LOOK_MS);
    stop.addEventListener("abort", over);
    if (stop.aborted) over();
  });
}
