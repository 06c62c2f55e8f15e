/** A kit and a reader with a bad line between them, in simulated time; all the kit said is accounted for, frame by frame. */
import type { Duplex } from "node:stream";
import { Live } from "../../host/cli/live.ts";
import type { Clock } from "../../host/reader/clock.ts";
import { LinkReader } from "../../host/reader/link-reader.ts";
import { ambientReport, tagReport } from "../../host/reader/link-report.ts";
import { ReaderError } from "../../host/reader/reader-error.ts";
import { Patience, reopen } from "../../host/reader/reopen.ts";
import type { AmbientReport, TagReport } from "../../host/reader/report.ts";
import type { Outcome } from "../../host/readings/reading.ts";
import { ReadingStream } from "../../host/readings/reading-stream.ts";
import { isFault } from "../../protocol/codec/encode.ts";
import { layout } from "../../protocol/index.ts";
import { Deframer } from "../../protocol/link/framing.ts";
import { decodeMessage } from "../../protocol/link/message.ts";
import { makeKit, scenarios } from "../../sim/index.ts";
import { Random } from "../../sim/random.ts";
import { commissionedMemory } from "../../sim/tag/factory.ts";
import { duplexPair } from "../sim/support/duplex-pair.ts";
import { type HeapPoint, heapMegabytes } from "./heap.ts";
import { bytesOf, Ledger, marked, type Piece, Witness } from "./marked-frames.ts";
import { type Badness, Spoiling } from "./spoiling.ts";

export interface BadLineResult {
  /** Frames the kit said, and what became of them. */
  readonly ledger: Ledger;
  /** Of the frames that came whole, those that are reports, copies included; and reports the reader gave out. */
  readonly reportsDue: number;
  readonly reportsTaken: number;
  /** Reports given out that were not the next one due: invented, of another tag, or out of order. */
  readonly wrongReports: number;
  /** Words fetched with an access: all, and those that are not the tag's. */
  readonly fetched: number;
  readonly wrongFetched: number;
  /** Readings, and those that carry another tag's sensor. */
  readonly readings: number;
  readonly wrongReadings: number;
  /** Tag reports that went into readings, and what is counted of them. */
  readonly tagReports: number;
  readonly tagReportsCounted: number;
  /** Bytes that came and belong to no whole frame, and bytes the reader says it discarded. */
  readonly bytesSpoilt: number;
  readonly bytesDiscarded: number;
  readonly faults: number;
  readonly reconnections: number;
  readonly reboots: number;
  /** After garbage collection, over the second half of the time. */
  readonly heap: readonly HeapPoint[];
}

const STEP_US = 10_000;
const DELAY_US = 200_000;
/** The heap is looked at so often in all, from the middle on: before, code is still being compiled. */
const HEAP_POINTS = 16;
const SERVICE = { bank: "user", word: 0, count: 32 } as const;
/** Where both copies of the calibration block lie, by the memory map: nothing writes there during the run. */
const COPIES = { word: 40, count: 32 };

const leg = scenarios["training-leg"]!;
const sensorOf = new Map(leg.tags.map(({ epc, sensorSerial }) => [epc, sensorSerial]));
const copiesOf = new Map(
  leg.tags.map((tag) => {
    const memory = commissionedMemory(tag);
    return [tag.epc, Array.from({ length: COPIES.count }, (_, i) => memory.peek(3, COPIES.word + i)).join()];
  }),
);

/** A clock that is moved by hand. */
class SteppedClock implements Clock {
  nowMs = 0;
  #timers: { readonly atMs: number; readonly then: () => void }[] = [];

  after(delayMs: number, then: () => void): () => void {
    const timer = { atMs: this.nowMs + delayMs, then };
    this.#timers.push(timer);
    return () => {
      this.#timers = this.#timers.filter((other) => other !== timer);
    };
  }

  to(nowMs: number): void {
    this.nowMs = nowMs;
    const due = this.#timers.filter(({ atMs }) => atMs <= nowMs);
    this.#timers = this.#timers.filter(({ atMs }) => atMs > nowMs);
    for (const { then } of due) then();
  }
}

function keyOf(report: TagReport | AmbientReport): string {
  if (report.kind === "ambient") return `ambient ${report.kitTimeUs} ${report.pressureRaw}`;
  return `${report.epc} ${report.kitTimeUs} ${report.result} ${report.words.join()}`;
}

/** Key of the report in a frame; null when it holds another message. */
function keyOfFrame(frame: Uint8Array): string | null {
  let key: string | null = null;
  new Deframer().push(
    frame,
    (body) => {
      const message = decodeMessage(layout, body, "to-host");
      if (isFault(message)) throw new Error(JSON.stringify(message));
      if (message.message.id === "tag_report") key = keyOf(tagReport(message));
      if (message.message.id === "ambient_report") key = keyOf(ambientReport(message));
    },
    (fault) => {
      throw new Error(JSON.stringify(fault));
    },
  );
  return key;
}

export async function runBadLine(seconds: number, seed: number, badness: Badness): Promise<BadLineResult> {
  const spoiling = new Spoiling(new Random(seed, "line"), badness);
  const clock = new SteppedClock();
  const ledger = new Ledger();
  const endUs = seconds * 1e6;
  const sum = {
    ...{ reportsDue: 0, reportsTaken: 0, wrongReports: 0, fetched: 0, wrongFetched: 0, readings: 0, wrongReadings: 0 },
    ...{ tagReports: 0, tagReportsCounted: 0, bytesSpoilt: 0, bytesDiscarded: 0, faults: 0 },
  };
  let [reconnections, reboots, stepUs, bootUs] = [0, 0, 0, 0];
  let kit = makeKit(leg);
  let line: Line | null = null;
  let current: Session | null = null;
  const take = (outcome: Outcome) => {
    if (outcome.kind !== "reading") return;
    sum.readings++;
    if (outcome.header !== null && outcome.header.sensorSerial !== sensorOf.get(outcome.epc)) sum.wrongReadings++;
  };
  const open = async (): Promise<Session> => {
    const opened = new Line(ledger, sum);
    line = opened;
    opened.far.on("data", (bytes: Uint8Array) => {
      for (const piece of spoiling.ofHost(bytes)) kit.receive(piece);
    });
    const reader = new LinkReader({ name: "sim", stream: opened.near, listenOnly: false }, { clock });
    watchAccesses(reader, sum);
    const readings = new ReadingStream(
      layout,
      { started: null, barometerUncertaintyPa: 12 },
      { kind: "kit_barometer" },
    );
    reader.on("report", (report) => {
      sum.reportsTaken++;
      if (opened.due.shift() !== keyOf(report)) sum.wrongReports++;
    });
    new Live({ reader, readings, capture: null, onOutcome: take });
    reader.on("closed", () => {
      if (line === opened) line = null;
      opened.close(reader);
      count(readings, sum);
      if (stepUs < endUs && current?.reader === reader) void connect();
    });
    try {
      await reader.open();
      await reader.startInventory({ periodMs: 100, read: SERVICE });
    } catch (error) {
      await reader.close();
      throw error;
    }
    return { reader };
  };
  const stop = new AbortController();
  let connecting = false;
  const connect = async () => {
    if (connecting) return;
    connecting = true;
    const sentenceOf = (error: unknown) => (error instanceof ReaderError ? error.message : null);
    const options = { clock, patience: new Patience(Number.POSITIVE_INFINITY), stop: stop.signal, sentenceOf };
    current = await reopen(open, { ...options, onTry: () => undefined });
    connecting = false;
    if (!current) return;
    reconnections++;
    // Lost in the very moment it was opened.
    if (line === null) void connect();
  };
  void connect();
  const late: { readonly atUs: number; readonly piece: Piece }[] = [];
  const heap: HeapPoint[] = [];
  for (stepUs = 0; stepUs < endUs; stepUs += STEP_US) {
    clock.to(stepUs / 1000);
    if (spoiling.happens("reboot")) {
      kit = makeKit(leg);
      bootUs = stepUs;
      reboots++;
    }
    if (line && spoiling.happens("disconnect")) {
      for (const { piece } of late.splice(0)) ledger.gone(piece, "cut off");
      (line as Line).cut();
      line = null;
    }
    kit.advance(stepUs - bootUs);
    const piece = marked(kit.take(), keyOfFrame);
    ledger.sent(piece);
    const delayUs = spoiling.happens("delay") ? DELAY_US : 0;
    late.push(...spoiling.ofKit(piece, ledger).map((each) => ({ atUs: stepUs + delayUs, piece: each })));
    // Delayed bytes hold up those behind them: a line keeps their order.
    while (late.length > 0 && late[0]!.atUs <= stepUs) {
      const { piece: next } = late.shift()!;
      if (line) (line as Line).write(next);
      else ledger.gone(next, "nobody connected");
    }
    await new Promise((resolve) => setImmediate(resolve));
    const every = endUs / HEAP_POINTS;
    if (stepUs > endUs / 2 && Math.floor(stepUs / every) !== Math.floor((stepUs - STEP_US) / every)) {
      heap.push({ atS: stepUs / 1e6, megabytes: heapMegabytes() });
    }
  }
  stop.abort();
  for (const { piece } of late) ledger.gone(piece, "still on its way");
  // What was written is delivered before the books are closed.
  for (let i = 0; i < 3; i++) await new Promise((resolve) => setImmediate(resolve));
  const last = line as Line | null;
  if (last) last.near.destroy();
  for (let i = 0; i < 3; i++) await new Promise((resolve) => setImmediate(resolve));
  return { ledger, ...sum, reconnections, reboots, heap };
}

interface Session {
  readonly reader: LinkReader;
}

interface Sums {
  reportsDue: number;
  fetched: number;
  wrongFetched: number;
  tagReports: number;
  tagReportsCounted: number;
  bytesSpoilt: number;
  bytesDiscarded: number;
  faults: number;
}

/** One connection: what is written to it comes out in order, and every byte is seen before the reader sees it. */
class Line {
  readonly near: Duplex;
  readonly far: Duplex;
  /** Reports the reader must give out next. */
  readonly due: string[] = [];
  readonly #ledger: Ledger;
  readonly #sums: Sums;
  readonly #witness: Witness;
  #inside: Piece = [];
  #ended = false;

  constructor(ledger: Ledger, sums: Sums) {
    [this.near, this.far] = duplexPair();
    this.#ledger = ledger;
    this.#sums = sums;
    this.#witness = new Witness(ledger, ({ key }) => {
      if (key === null) return;
      sums.reportsDue++;
      this.due.push(key);
    });
    this.far.on("error", () => undefined);
    this.near.on("data", (bytes: Uint8Array) => {
      for (const byte of this.#inside.splice(0, bytes.length)) this.#witness.see(byte);
    });
    this.near.on("end", () => {
      this.#ended = true;
    });
  }

  write(piece: Piece): void {
    if (piece.length === 0) return;
    this.#inside.push(...piece);
    this.far.write(bytesOf(piece));
  }

  cut(): void {
    this.far.end();
  }

  /** The reader let go of it: what had not come by then never will. */
  close(reader: LinkReader): void {
    this.#ledger.gone(this.#inside.splice(0), "cut off");
    const { received, framed, idle, sinceDelimiter } = this.#witness;
    // Of a stream that came to no end, the reader does not know that the last bytes are half a frame.
    this.#sums.bytesSpoilt += received - framed - idle - (this.#ended ? 0 : sinceDelimiter);
    this.#sums.bytesDiscarded += reader.counts.discardedBytes;
    this.#sums.faults += reader.counts.faults;
  }
}

/** Checks that the calibration copies an access brings are those of the tag that was asked for. */
function watchAccesses(reader: LinkReader, sums: Sums): void {
  const read = reader.read.bind(reader);
  reader.read = async (request) => {
    const answer = await read(request);
    if (answer.result === "done" && request.word === COPIES.word) {
      sums.fetched++;
      if (answer.words.join() !== copiesOf.get(request.epc)) sums.wrongFetched++;
    }
    return answer;
  };
}

function count({ counts }: ReadingStream, sums: Sums): void {
  const { tagReports, readings, waveforms, other, sighted, unread } = counts;
  sums.tagReports += tagReports;
  const failed = Object.values(unread).reduce((all, each) => all + each, 0);
  sums.tagReportsCounted += readings + waveforms + other + sighted + failed;
}
