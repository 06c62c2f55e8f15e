/** One session with a reader, from opening the port to the summary; `read` and `demo` are sessions. */
import { layout } from "../../protocol/index.ts";
import { CaptureWriter } from "../capture/capture-writer.ts";
import { LinkReader } from "../reader/link-reader.ts";
import { LlrpReader } from "../reader/llrp-reader.ts";
import type { ChannelPlan, Reader, ReaderInfo } from "../reader/reader.ts";
import { ReaderError } from "../reader/reader-error.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";
import type { AmbientSource } from "../readings/ambient.ts";
import type { Outcome } from "../readings/reading.ts";
import { type ReadingCounts, ReadingStream } from "../readings/reading-stream.ts";
import { openPort, type Port } from "../transport/port.ts";
import { PortError } from "../transport/port-error.ts";
import { CommandError, EXIT } from "./exit.ts";
import { type FileSink, openSink } from "./file-sink.ts";
import { Live, SERVICE } from "./live.ts";
import { outputGone } from "./terminal.ts";

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
  readonly counts: ReadingCounts;
  /** Why the port was lost, in one sentence; null when the session ended as it should. */
  readonly lost: string | null;
  /** Damaged stretches on the line. */
  readonly faults: number;
  readonly discardedBytes: number;
}

/** How often the end of the session is looked for. */
const LOOK_MS = 20;

/** Throws a CommandError when the session cannot begin; once it has begun it always ends with a result. */
export async function runSession(options: SessionOptions): Promise<SessionResult> {
  const port = await open(options.port);
  const sinks: FileSink[] = [];
  const reader: Reader = options.protocol === "llrp" ? new LlrpReader(port) : new LinkReader(port);
  // The kit tells its ambient pressure as soon as it is greeted.
  const early: (TagReport | AmbientReport)[] = [];
  const keep = (report: TagReport | AmbientReport) => early.push(report);
  reader.on("report", keep);
  let lost: string | null | undefined;
  reader.on("closed", (reason) => {
    lost = reason;
  });
  try {
    if (options.linkLog !== null) {
      const log = await openSink(options.linkLog, "the link log is");
      sinks.push(log);
      port.stream.on("data", (bytes: Uint8Array) => log.write(bytes));
    }
    const info = await reader.open();
    checkPower(options.powerDbm, info);
    const started = new Date().toISOString();
    const { barometerUncertaintyPa } = info;
    let capture: CaptureWriter | null = null;
    if (options.capture !== null) {
      const sink = await openSink(options.capture.file, "the capture is");
      sinks.push(sink);
      capture = await startCapture(sink, options, info, started);
    }
    const readings = new ReadingStream(layout, { started, barometerUncertaintyPa }, options.ambient);
    const live = new Live({ reader, readings, capture, onOutcome: options.onOutcome });
    reader.off("report", keep);
    for (const report of early) live.take(report);
    if (options.powerDbm !== null) await reader.setPower(options.powerDbm);
    if (options.plan !== null) await reader.setChannelPlan(options.plan);
    options.onReady();
    await reader.startInventory({ periodMs: options.periodMs, read: { bank: "user", ...SERVICE } });
    const end = await ended(() => lost !== undefined, live, options);
    await reader.close();
    await live.settled();
    const { faults, discardedBytes } = reader.counts;
    // What goes away because a person stopped everything is not lost: Ctrl-C reaches an exec: program too.
    return { counts: readings.counts, lost: end === "gone" ? (lost ?? null) : null, faults, discardedBytes };
  } catch (error) {
    if (error instanceof ReaderError) throw new CommandError(EXIT.device, lost ?? `${options.port}: ${error.message}`);
    throw error;
  } finally {
    await reader.close();
    for (const sink of sinks) await sink.close();
  }
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
