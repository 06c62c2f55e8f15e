/** A capture of a simulated kit whose time moves in lockstep with the host, so that every run brings the same bytes. */
import { Writable } from "node:stream";
import { setImmediate } from "node:timers/promises";
import { CaptureWriter } from "../../host/capture/capture-writer.ts";
import { Live, SERVICE } from "../../host/cli/live.ts";
import { LinkReader } from "../../host/reader/link-reader.ts";
import type { AmbientReport, TagReport } from "../../host/reader/report.ts";
import { ReadingStream } from "../../host/readings/reading-stream.ts";
import { layout } from "../../protocol/index.ts";
import { makeKit, type scenarios } from "../../sim/index.ts";
import { duplexPair } from "../sim/support/duplex-pair.ts";

const STEP_US = 1000;

export interface Take {
  readonly scenario: NonNullable<(typeof scenarios)[string]>;
  /** Kit time at which the capture ends. */
  readonly lastUs: number;
  /** Time from one inventory round to the next. */
  readonly periodMs: number;
  /** ISO 8601, for the header. */
  readonly started: string;
}

/** The capture's text. */
export async function lockstepCapture({ scenario, lastUs, periodMs, started }: Take): Promise<string> {
  const kit = makeKit(scenario);
  const [near, far] = duplexPair();
  far.on("data", (bytes: Uint8Array) => kit.receive(bytes));
  const reader = new LinkReader({ name: "plyframe kit", stream: near, listenOnly: false });
  const early: (AmbientReport | TagReport)[] = [];
  const keep = (report: AmbientReport | TagReport) => early.push(report);
  reader.on("report", keep);
  let kitTimeUs = 0;
  const advance = async (done: () => boolean) => {
    while (!done()) {
      kitTimeUs += STEP_US;
      kit.advance(kitTimeUs);
      far.write(kit.take());
      // Both directions and the answers to answers are through after a few turns of the event loop.
      for (let turn = 0; turn < 4; turn++) await setImmediate();
    }
  };
  const answered = async <T>(asked: Promise<T>): Promise<T> => {
    let done = false;
    const answer = asked.finally(() => {
      done = true;
    });
    await advance(() => done);
    return answer;
  };

  const { barometerUncertaintyPa } = await answered(reader.open());
  const lines: string[] = [];
  const sink = new Writable({
    decodeStrings: false,
    write(line: string, _encoding, done) {
      lines.push(line);
      done();
    },
  });
  const capture = new CaptureWriter(sink);
  await capture.header({
    version: 1,
    layout: layout.layout,
    fingerprint: layout.fingerprint,
    started,
    source: `plyframe kit, simulated, seed ${scenario.seed}`,
    barometerUncertaintyPa,
    note: `${scenario.title}. Every number is invented.`,
  });
  const readings = new ReadingStream(layout, { started, barometerUncertaintyPa }, { kind: "kit_barometer" });
  const live = new Live({ reader, readings, capture, onOutcome: () => undefined });
  reader.off("report", keep);
  for (const report of early) live.take(report);
  await answered(reader.startInventory({ periodMs, read: { bank: "user", ...SERVICE } }));
  await advance(() => kitTimeUs >= lastUs);
  await answered(reader.close());
  await live.settled();
  return lines.join("");
}
