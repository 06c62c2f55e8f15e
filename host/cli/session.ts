/** One session with a reader, from opening the port to the summary; `read` and `demo` are sessions. */
import { layout } from "../../protocol/index.ts";
import { CaptureWriter } from "../capture/capture-writer.ts";
import { systemClock } from "../reader/clock.ts";
import { LinkReader } from "../reader/link-reader.ts";
import { LlrpReader } from "../reader/llrp-reader.ts";
import type { ChannelPlan, Reader, ReaderInfo } from "../reader/reader.ts";
import { ReaderError } from "../reader/reader-error.ts";
import { reopen } from "../reader/reopen.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";
import type { AmbientSource } from "../readings/ambient.ts";
import type { Outcome } from "../readings/reading.ts";
import { type ReadingCounts, ReadingStream } from "../readings/reading-stream.ts";
import { openPort, type Port } from "../transport/port.ts";
import { PortError } from "../transport/port-error.ts";
import { CommandError, EXIT } from "./exit.ts";
import { type FileSink, openSink } from "./file-sink.ts";
import { Live, SERVICE } from "./live.ts";
import { type Presence, PresenceTable } from "./presence.ts";
import { note, outputGone } from "./terminal.ts";

export interface SessionOptions {
  readonly port: string;
  /** What is spoken on the port; a reader kit's link when left out. */
  readonly protocol?: "llrp";
  readonly periodMs: number;
  readonly powerDbm: number | null;
  readonly plan: ChannelPlan | null;
  readonly ambient: AmbientSource;
  readonly capture: SessionCapture | null;
  readonly linkLog: string | null;
  /** Kit time after which the session ends by itself; null: when the port closes or a person stops it. */
  readonly forS: number | null;
  /** How long a port that was lost is tried again. */
  readonly retryS: number;
  /** The reader answered; readings follow. */
  readonly onReady: () => void;
  readonly onOutcome: (outcome: Outcome) => void;
  /** Time passed, with or without a report. */
  readonly onTime: (kitTimeUs: number) => void;
}

export interface SessionCapture {
  readonly file: string;
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
  readonly presence: readonly Presence[];
}

/** How often the end of the session is looked for. */
const LOOK_MS = 20;

interface Connection {
  readonly reader: Reader;
  readonly info: ReaderInfo;
  /** The kit tells its ambient pressure as soon as it is greeted. */
  readonly early: readonly (TagReport | AmbientReport)[];
  readonly stopKeeping: () => void;
  /** Why the port is gone; undefined while it is there. */
  readonly lost: () => string | null | undefined;
}

/**
 * Throws a CommandError when the session cannot begin; once it has begun it always ends with a result. A port that is lost
 * is tried again for a while; the capture goes on under a header of its own, for the reader's clock may have begun anew.
 */
export async function runSession(options: SessionOptions): Promise<SessionResult> {
  const sinks: FileSink[] = [];
  const sink = async (file: string | null, what: string) => {
    if (file === null) return null;
    const opened = await openSink(file, what);
    sinks.push(opened);
    return opened;
  };
  const presence = new PresenceTable(options.periodMs);
  const counts: ReadingCounts[] = [];
  let [faults, discardedBytes, coveredS, nowUs] = [0, 0, 0, 0];
  let stopped = false;
  const stop = () => {
    stopped = true;
  };
  try {
    const port = await open(options.port);
    const log = await sink(options.linkLog, "the link log is").catch((error) => {
      port.stream.destroy();
      throw error;
    });
    let connection = await connect(port, options, log);
    let capture: FileSink | null = null;
    for (;;) {
      const { reader, info, early, stopKeeping, lost } = connection;
      try {
        checkPower(options.powerDbm, info);
        const started = new Date().toISOString();
        capture ??= await sink(options.capture?.file ?? null, "the capture is");
        const writer = capture && (await startCapture(capture, options, info, started));
        const { barometerUncertaintyPa } = info;
        const readings = new ReadingStream(layout, { started, barometerUncertaintyPa }, options.ambient);
        const live = new Live({ reader, readings, capture: writer, onOutcome: options.onOutcome });
        stopKeeping();
        for (const report of early) live.take(report);
        reader.on("report", (report) => {
          if (report.kind === "read") presence.add(report);
        });
        if (options.powerDbm !== null) await reader.setPower(options.powerDbm);
        if (options.plan !== null) await reader.setChannelPlan(options.plan);
        if (counts.length === 0) options.onReady();
        counts.push(readings.counts);
        await reader.startInventory({ periodMs: options.periodMs, read: { bank: "user", ...SERVICE } });
        const forS = options.forS === null ? null : options.forS - coveredS;
        const end = await ended(() => lost() !== undefined, live, { ...options, forS });
        await reader.close();
        await live.settled();
        coveredS += live.coveredS;
        nowUs = live.nowUs;
        faults += reader.counts.faults;
        discardedBytes += reader.counts.discardedBytes;
        // What goes away because a person stopped everything is not lost: Ctrl-C reaches an exec: program too.
        const why = end === "gone" ? (lost() ?? null) : null;
        const result = { counts, lost: why, faults, discardedBytes, presence: presence.at(nowUs) };
        if (why === null || !mayComeBack(options.port)) return result;
        process.on("SIGINT", stop);
        note(`${why}; trying to reach it again`);
        const again = async () => connect(await openPort(options.port), options, log);
        const next = await reopen(again, systemClock, options.retryS * 1000, () => stopped);
        process.removeListener("SIGINT", stop);
        if (!next) return result;
        note(`${options.port} is back; the readings go on`);
        connection = next;
      } catch (error) {
        if (!(error instanceof ReaderError)) throw error;
        throw new CommandError(EXIT.device, lost() ?? `${options.port}: ${error.message}`);
      } finally {
        await reader.close();
      }
    }
  } finally {
    process.removeListener("SIGINT", stop);
    for (const opened of sinks) await opened.close();
  }
}

/** Greets the reader. Throws a CommandError when it does not answer. */
async function connect(port: Port, options: SessionOptions, log: FileSink | null): Promise<Connection> {
  const reader: Reader = options.protocol === "llrp" ? new LlrpReader(port) : new LinkReader(port);
  const early: (TagReport | AmbientReport)[] = [];
  const keep = (report: TagReport | AmbientReport) => early.push(report);
  reader.on("report", keep);
  let lost: string | null | undefined;
  reader.on("closed", (reason) => {
    lost = reason;
  });
  if (log) port.stream.on("data", (bytes: Uint8Array) => log.write(bytes));
  try {
    const info = await reader.open();
    return { reader, info, early, stopKeeping: () => reader.off("report", keep), lost: () => lost };
  } catch (error) {
    await reader.close();
    if (error instanceof ReaderError) throw new CommandError(EXIT.device, lost ?? `${options.port}: ${error.message}`);
    throw error;
  }
}

/** A program that ended and a recording that is over do not come back. */
function mayComeBack(port: string): boolean {
  return !/^(exec|file):/i.test(port);
}

async function open(name: string): Promise<Port> {
  try {
    return await openPort(name);
  } catch (error) {
    if (error instanceof PortError) throw new CommandError(EXIT.device, error.message);
    throw error;
  }
}

function checkPower(powerDbm: number | null, { powerLowDbm, powerHighDbm }: ReaderInfo): void {
  if (powerDbm === null || powerLowDbm === null || powerHighDbm === null) return;
  if (powerDbm >= powerLowDbm && powerDbm <= powerHighDbm) return;
  throw new CommandError(
    EXIT.usage,
    `--power ${powerDbm}: this kit transmits at ${powerLowDbm} to ${powerHighDbm} dBm`,
  );
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
function ended(gone: () => boolean, live: Live, { forS, onTime }: SessionOptions): Promise<"gone" | "over"> {
  return new Promise((resolve) => {
    const finish = (how: "gone" | "over") => {
      clearInterval(timer);
      process.removeListener("SIGINT", stop);
      process.removeListener("SIGTERM", stop);
      resolve(how);
    };
    const stop = () => finish("over");
    const timer = setInterval(() => {
      if (gone()) finish("gone");
      else if (outputGone() || (forS !== null && live.coveredS >= forS)) finish("over");
      else onTime(live.nowUs);
    }, LOOK_MS);
    process.on("SIGINT", stop);
    process.on("SIGTERM", stop);
  });
}
