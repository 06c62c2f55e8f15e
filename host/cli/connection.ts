/** A reader that was greeted and does what the session wants of it. */
import type { ChannelPlan, Reader, ReaderInfo } from "../reader/reader.ts";
import { ReaderError } from "../reader/reader-error.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";
import { openPort, type Port } from "../transport/port.ts";
import { PortError } from "../transport/port-error.ts";
import { CommandError, EXIT } from "./exit.ts";
import type { FileSink } from "./file-sink.ts";
import { SERVICE } from "./live.ts";
import { checkPower } from "./power-range.ts";
import { placedSentence, type ReaderPlace, readerOn } from "./reader-place.ts";

export interface ConnectionOptions extends ReaderPlace {
  readonly periodMs: number;
  readonly powerDbm: number | null;
  readonly plan: ChannelPlan | null;
}

export interface Connection {
  readonly reader: Reader;
  readonly info: ReaderInfo;
  /** Reports that came before anybody listened: a kit tells its ambient pressure as soon as it is greeted. From now on none is kept. */
  takeEarly(): readonly (TagReport | AmbientReport)[];
  /** Why the port is gone; undefined while it is there. */
  lost(): string | null | undefined;
}

/** What came over connections that were given up before they were of use. */
export interface Fruitless {
  reports: number;
  faults: number;
  discardedBytes: number;
}

/** Opens a port. Throws a CommandError. */
export async function openedPort(name: string): Promise<Port> {
  try {
    return await openPort(name);
  } catch (error) {
    if (error instanceof PortError) throw new CommandError(EXIT.device, error.message);
    throw error;
  }
}

/**
 * Greets the reader and starts its inventory. Throws a CommandError when the reader does not answer, refuses, or is lost
 * meanwhile; it is let go of then, and what it had said is counted in `fruitless`.
 */
export async function connect(
  port: Port,
  options: ConnectionOptions,
  log: FileSink | null,
  fruitless: Fruitless,
): Promise<Connection> {
  const reader = readerOn(port, options);
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
    checkPower(options.powerDbm, info);
    if (options.powerDbm !== null) await reader.setPower(options.powerDbm);
    if (options.plan !== null) await reader.setChannelPlan(options.plan);
    await reader.startInventory({ periodMs: options.periodMs, read: { bank: "user", ...SERVICE } });
    const takeEarly = () => {
      reader.off("report", keep);
      return early;
    };
    return { reader, info, takeEarly, lost: () => lost };
  } catch (error) {
    await reader.close();
    fruitless.reports += early.length;
    fruitless.faults += reader.counts.faults;
    fruitless.discardedBytes += reader.counts.discardedBytes;
    if (error instanceof ReaderError) {
      throw new CommandError(EXIT.device, lost ?? placedSentence(options.port, error));
    }
    throw error;
  }
}
