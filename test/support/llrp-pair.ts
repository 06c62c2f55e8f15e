/** The host's LLRP reader on the simulated endpoint, in one process, with everything both sides said. */
import { LlrpReader, type LlrpReaderOptions } from "../../host/reader/llrp-reader.ts";
import type { AmbientReport, TagReport } from "../../host/reader/report.ts";
import { LlrpStream } from "../../protocol/llrp/stream.ts";
import type { LlrpMessage } from "../../protocol/llrp/vocabulary.ts";
import type { Fault } from "../../protocol/model/reasons.ts";
import { makeLlrpEndpoint, type Scenario, scenarios, serveKit } from "../../sim/index.ts";
import { duplexPair } from "../sim/support/duplex-pair.ts";

/** 2026-03-04 09:00 UTC. */
export const START_UTC_US = 1_772_614_800_000_000n;

export const leg: Scenario = scenarios["training-leg"]!;

/** One message on its way, whole. */
export interface Said {
  readonly by: "client" | "reader";
  readonly message: LlrpMessage;
  readonly raw: Uint8Array;
}

export interface LlrpPair {
  readonly reader: LlrpReader;
  readonly reports: (TagReport | AmbientReport)[];
  readonly faults: Fault[];
  /** Both sides' messages in the order they were said. */
  readonly said: Said[];
  /** The reader's side, as a recording of it would be. */
  heard(): Uint8Array;
  /** Resolves when a predicate holds of the reports so far. */
  until(holds: (reports: readonly TagReport[]) => boolean): Promise<void>;
  /** The endpoint goes away. */
  cut(): void;
}

export interface PairOptions extends LlrpReaderOptions {
  readonly supportedVersion?: 1 | 2;
  readonly speed?: number;
  /** Splits what the reader says into pieces of this many bytes. */
  readonly pieces?: number;
}

export function llrpPair({ supportedVersion = 2, speed = 4, pieces, ...options }: PairOptions = {}): LlrpPair {
  const [near, far] = duplexPair();
  const said: Said[] = [];
  const bytes: Uint8Array[] = [];
  const listen = (by: Said["by"]) =>
    new LlrpStream({
      onMessage: (message, { raw }) => void said.push({ by, message, raw }),
      onFault: (fault) => {
        throw new Error(`the ${by} said something damaged: ${JSON.stringify(fault)}`);
      },
    });
  const [client, answers] = [listen("client"), listen("reader")];
  const kit = makeLlrpEndpoint(leg, { startUtcUs: START_UTC_US, supportedVersion });
  const tapped = {
    receive: (chunk: Uint8Array) => {
      client.push(chunk);
      kit.receive(chunk);
    },
    advance: (toUs: number) => kit.advance(toUs),
    take: () => {
      const chunk = kit.take();
      answers.push(chunk);
      bytes.push(chunk);
      return chunk;
    },
  };
  serveKit(tapped, far, { speed }).catch(() => undefined);
  if (pieces !== undefined) splitReads(near, pieces);
  const reader = new LlrpReader({ name: "pair", stream: near, listenOnly: false }, options);
  const reports: (TagReport | AmbientReport)[] = [];
  const faults: Fault[] = [];
  reader.on("report", (report) => reports.push(report));
  reader.on("fault", (fault) => faults.push(fault));
  const until = (holds: (reports: readonly TagReport[]) => boolean) =>
    new Promise<void>((resolve) => {
      const look = () => {
        if (!holds(reports.filter((report) => report.kind === "read"))) return;
        reader.off("report", look);
        resolve();
      };
      reader.on("report", look);
      look();
    });
  return { reader, reports, faults, said, heard: () => Buffer.concat(bytes), until, cut: () => far.end() };
}

/** Data events of a stream come in small pieces, as TCP may deliver them. */
function splitReads(stream: NodeJS.EventEmitter, size: number): void {
  const emit = stream.emit.bind(stream);
  stream.emit = (event: string | symbol, ...words: unknown[]) => {
    const [chunk] = words;
    if (event !== "data" || !(chunk instanceof Uint8Array)) return emit(event, ...words);
    for (let at = 0; at < chunk.length; at += size) emit("data", chunk.subarray(at, at + size));
    return true;
  };
}
