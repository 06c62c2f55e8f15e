/** Reads raw LLRP bytes as a capture: messages of the reader, with or without those of its client, in bounded memory. */
import { HEADER_BYTES } from "../../protocol/llrp/header.ts";
import { LlrpStream, type Origin } from "../../protocol/llrp/stream.ts";
import type { LlrpMessage } from "../../protocol/llrp/vocabulary.ts";
import { type Fault, reasons, sentence } from "../../protocol/model/reasons.ts";
import { LlrpReports } from "../reader/llrp-reports.ts";
import type { TagReport } from "../reader/report.ts";
import type { Notice, Reject } from "./item.ts";

/** Bytes of one side of a connection, or of both where they are whole messages. */
export interface Heard {
  /** Names of the connection and of the side; empty when there is only one. Connections come one after the other. */
  readonly connection: string;
  readonly side: string;
  readonly bytes: Uint8Array;
}

export interface MessagePlace {
  /** Connection and side; empty when there is only one. */
  readonly from: string;
  /** Counted from 1 on each side. */
  readonly message: number;
  /** The same over the whole recording. */
  readonly ordinal: number;
}

export interface LlrpCaptureCounts {
  bytes: number;
  /** Whole messages that could be read. */
  messages: number;
  sessions: number;
  read: number;
  /** Parameters of unknown type that were skipped. */
  skipped: number;
  /** Messages and streams that could not be read, and reports without a time or a place. */
  rejected: number;
}

export type LlrpItem =
  /** A greeting, or the first report of a connection that was joined late: kit time begins anew. */
  | {
      readonly place: MessagePlace;
      readonly session: { readonly started: string | null; readonly barometerUncertaintyPa: null };
    }
  /** `raw` is the whole message, the same object for every report in it. */
  | { readonly place: MessagePlace; readonly report: TagReport; readonly raw: Uint8Array }
  | { readonly place: MessagePlace; readonly notice: Notice }
  | { readonly place: MessagePlace; readonly reject: Reject };

/** Async iterable of the items; iterate once. An error of the source comes out of the iteration. */
export class LlrpCapture implements AsyncIterable<LlrpItem> {
  readonly counts: LlrpCaptureCounts = { bytes: 0, messages: 0, sessions: 0, read: 0, skipped: 0, rejected: 0 };
  readonly #source: AsyncIterable<Heard>;
  readonly #name: string;
  readonly #streams = new Map<string, LlrpStream>();
  readonly #numbers = new Map<string, number>();
  #ordinal = 0;
  #connection: string | null = null;
  #reports = new LlrpReports((fault) => this.#faults.push(fault));
  #faults: Fault[] = [];
  #items: LlrpItem[] = [];

  /** `name` is what messages call the file. */
  constructor(source: AsyncIterable<Heard>, name: string) {
    this.#source = source;
    this.#name = name;
  }

  async *[Symbol.asyncIterator](): AsyncGenerator<LlrpItem> {
    for await (const { connection, side, bytes } of this.#source) {
      this.counts.bytes += bytes.length;
      if (connection !== this.#connection) this.#begin(connection);
      this.#streamOf(connection === "" ? side : `${connection}, ${side}`).push(bytes);
      yield* this.#items.splice(0);
    }
    this.#end();
    yield* this.#items.splice(0);
    if (this.counts.read > 0 || this.counts.rejected > 0) return;
    const says = `${reasons["file-empty"].says} (no tag report in ${this.counts.messages} messages)`;
    const notice = { reason: "file-empty", sentence: `${this.#name}: ${says} [file-empty]` } as const;
    yield { place: { from: "", message: 0, ordinal: this.#ordinal + 1 }, notice };
  }

  #begin(connection: string): void {
    this.#end();
    this.#connection = connection;
    this.#reports = new LlrpReports((fault) => this.#faults.push(fault));
  }

  #end(): void {
    for (const stream of this.#streams.values()) stream.end();
    this.#streams.clear();
    this.#numbers.clear();
  }

  #streamOf(from: string): LlrpStream {
    const known = this.#streams.get(from);
    if (known) return known;
    const stream = new LlrpStream({
      onMessage: (message, origin) => this.#take(from, message, origin),
      onFault: (fault, origin) => this.#refuse(this.#placeOf(from), fault, origin?.raw ?? NOTHING),
    });
    this.#streams.set(from, stream);
    return stream;
  }

  #take(from: string, message: LlrpMessage, { byte, raw }: Origin): void {
    this.counts.messages++;
    this.counts.skipped += message.skipped.length;
    const place = this.#placeOf(from);
    const before = this.#reports.startUtcUs;
    const seen = this.#reports.take(message);
    const after = this.#reports.startUtcUs;
    if (isGreeting(message) || after !== before) this.#session(place, after);
    for (const { reports } of seen) {
      for (const report of reports) {
        this.counts.read++;
        this.#items.push({ place, report, raw });
      }
    }
    for (const fault of this.#faults.splice(0)) this.#refuse(place, { ...fault, byte: byte + HEADER_BYTES }, raw);
  }

  #session(place: MessagePlace, startUtcUs: bigint | null): void {
    this.counts.sessions++;
    const known = startUtcUs !== null && startUtcUs / 1000n <= LAST_MS;
    const started = known ? new Date(Number(startUtcUs / 1000n)).toISOString() : null;
    this.#items.push({ place, session: { started, barometerUncertaintyPa: null } });
    if (startUtcUs === null || known) return;
    const says = `${reasons["value-out-of-range"].says} (${startUtcUs} µs; the date is not known)`;
    const where = `${placeText(this.#name, place)}: UTCTimestamp`;
    this.#items.push({
      place,
      notice: { reason: "value-out-of-range", sentence: `${where}: ${says} [value-out-of-range]` },
    });
  }

  #refuse(place: MessagePlace, fault: Fault, raw: Uint8Array): void {
    this.counts.rejected++;
    const says = `${placeText(this.#name, place)}: ${sentence(fault)}`;
    this.#items.push({
      place,
      reject: { reason: fault.code, field: fault.path, sentence: says, raw, becauseOf: null },
    });
  }

  /** Place of the next message of a side. */
  #placeOf(from: string): MessagePlace {
    const message = (this.#numbers.get(from) ?? 0) + 1;
    this.#numbers.set(from, message);
    this.#ordinal++;
    return { from, message, ordinal: this.#ordinal };
  }
}

/** `name: message 3`, or with connection and side. */
export function placeText(name: string, { from, message }: MessagePlace): string {
  return `${name}: ${from === "" ? "" : `${from}, `}message ${message}`;
}

const NOTHING = new Uint8Array(0);

/** The last millisecond of the year 9999: ISO 8601 needs an agreement between the partners for a later one. */
const LAST_MS = 253_402_300_799_999n;

function isGreeting(message: LlrpMessage): boolean {
  const [data] = message.parameters;
  return data?.parameters.some(({ name }) => name === "ConnectionAttemptEvent") === true;
}
