/** A capture on its way to readings: item after item, to the end, to a signal or to where the file can be read no further. */
import { layout, type Reason, sentence } from "../../protocol/index.ts";
import type { AmbientSource } from "../readings/ambient.ts";
import { readingJson } from "../readings/reading-json.ts";
import { type ReadingCounts, ReadingStream, type Session } from "../readings/reading-stream.ts";
import type { DecodeOut } from "./decode-out.ts";
import { CommandError, EXIT } from "./exit.ts";
import type { FileSink } from "./file-sink.ts";
import { Progress, progressScreen } from "./progress.ts";
import { outcomeLine } from "./reading-text.ts";
import type { DecodeItem, Recording } from "./recording.ts";
import type { Sites } from "./sites.ts";
import { isSourceTrouble, type Source, sourceSentence } from "./source.ts";
import { Stop } from "./stop.ts";
import { addCounts, countsSentence, Tally } from "./tally.ts";
import { note, outputGone, say, sayJson } from "./terminal.ts";

export interface DecodingOptions {
  readonly source: Source;
  readonly recording: Recording;
  readonly rejects: FileSink | null;
  readonly rejectsName: string | null;
  /** Null: readings go to standard output. */
  readonly out: DecodeOut | null;
  readonly ambient: AmbientSource;
  readonly sites: Sites;
  readonly json: boolean;
  /** First line (packet, frame, message) that is written; those before it only tell of the tags. */
  readonly from: number;
  /** The command that goes on from there. */
  readonly goOn: (from: number) => string;
}

/** A Read that failed on the air is what the capture says, not a fault of the capture. */
const ON_THE_AIR: readonly Reason[] = [
  "tag-lost",
  "tag-memory-overrun",
  "tag-memory-locked",
  "tag-power-insufficient",
  "tag-error",
  "password-wrong",
];

/** How the work ended. */
type End =
  | { readonly kind: "whole" }
  /** Nobody takes the results any more. */
  | { readonly kind: "unwanted" }
  | { readonly kind: "stopped"; readonly before: number; readonly status: number }
  | { readonly kind: "trouble"; readonly says: string };

export class Decoding {
  readonly #options: DecodingOptions;
  readonly #progress: Progress;
  readonly #tally = new Tally();
  /** Of captures that are over: a file may hold several, one after the other, each with its own header. */
  #counts: ReadingCounts | null = null;
  #readings: ReadingStream;
  #rejected = 0;
  /** Number of the last line (packet, frame, message). */
  #last = 0;
  #kept: Uint8Array | null = null;

  constructor(options: DecodingOptions) {
    this.#options = options;
    this.#progress = new Progress(options.source.size, progressScreen(options.out === null));
    this.#readings = this.#begin({ started: null, barometerUncertaintyPa: null });
  }

  /** Sets the exit status. Throws a CommandError when the output cannot be written; what was begun of it is then the caller's to discard. */
  async run(): Promise<void> {
    const { out, from, recording, source } = this.#options;
    // Until the output is whole: a signal while it is being ended must not cut it short.
    const stop = new Stop();
    try {
      const end = await this.#work(stop);
      if (end.kind === "unwanted") return;
      if (end.kind === "whole" && from > this.#last + 1) {
        const has = `${source.name} has only ${this.#last}`;
        throw new CommandError(EXIT.usage, `--from ${from}: ${has} ${recording.unit}s; nothing was written`);
      }
      const holds = (await out?.finish()) ?? null;
      this.#summary(end, holds);
    } finally {
      stop.release();
      this.#progress.end();
    }
  }

  async #work(stop: Stop): Promise<End> {
    const { recording, source, out, rejects, from } = this.#options;
    const items = recording.items[Symbol.asyncIterator]();
    try {
      for (;;) {
        const next = await stop.next(items).catch((error) => {
          if (!isSourceTrouble(error)) throw error;
          return sourceSentence(source.name, error);
        });
        if (typeof next === "string") return { kind: "trouble", says: next };
        if (next?.done) return { kind: "whole" };
        const ordinal = next === null ? this.#last + 1 : recording.ordinal(next.value);
        if (next === null || (stop.signal !== null && ordinal !== this.#last)) {
          return { kind: "stopped", before: Math.max(from, ordinal), status: stop.status };
        }
        this.#last = ordinal;
        this.#take(next.value, ordinal >= from);
        this.#progress.bytes(source.taken());
        await rejects?.drained();
        await out?.drain(false);
        if (outputGone()) return { kind: "unwanted" };
      }
    } finally {
      this.#progress.end();
    }
  }

  #take(item: DecodeItem, wanted: boolean): void {
    const { out, rejects } = this.#options;
    if ("more" in item) {
      if (wanted) rejects?.write(item.more);
    } else if ("notice" in item) {
      if (wanted) this.#progress.note(`plyframe: ${item.notice.sentence}`);
    } else if ("reject" in item) {
      if (wanted) this.#reject(item.reject.raw, item.reject.becauseOf === null ? [item.reject.sentence] : []);
    } else if ("report" in item) {
      const unkept = out?.item(item, wanted);
      const outcomes = this.#readings.push(item.report);
      if (wanted) this.#results(item, outcomes, unkept ? [sentence(unkept)] : []);
    } else {
      out?.item(item, wanted);
      this.#readings = this.#begin("header" in item ? item.header : item.session);
    }
  }

  #results(
    item: Extract<DecodeItem, { report: unknown }>,
    outcomes: ReturnType<ReadingStream["push"]>,
    unkept: readonly string[],
  ): void {
    const { out, json, sites, recording } = this.#options;
    const faults = [...unkept];
    for (const outcome of outcomes) {
      this.#tally.add(outcome);
      if (outcome.kind === "unread") {
        if (!ON_THE_AIR.includes(outcome.reason)) faults.push(outcome.sentence);
      } else if (out) out.outcome(outcome);
      else if (json) sayJson(readingJson(outcome));
      else say(outcomeLine(outcome, sites));
    }
    const where = recording.where(item);
    if (faults.length > 0) {
      this.#reject(
        item.raw,
        faults.map((fault) => `${where}: ${fault}`),
      );
    }
  }

  #reject(raw: Uint8Array, sentences: readonly string[]): void {
    this.#rejected++;
    for (const says of sentences) this.#progress.note(`plyframe: ${says}`);
    // Reports of one message come with the same bytes.
    if (raw !== this.#kept) this.#options.rejects?.write(raw);
    this.#kept = raw;
  }

  #begin(session: Session): ReadingStream {
    if (this.#readings) this.#counts = addCounts(this.#counts, this.#readings.counts);
    return new ReadingStream(layout, session, this.#options.ambient);
  }

  /** What was done, and how to go on. `holds`: what is in the output. */
  #summary(end: Exclude<End, { kind: "unwanted" }>, holds: string | null): void {
    const { recording, json, sites, from, out, rejectsName, goOn } = this.#options;
    const { unit } = recording;
    if (!json) for (const line of this.#tally.lines(sites)) note(line);
    note(recording.summary());
    note(countsSentence([addCounts(this.#counts, this.#readings.counts)]));
    if (this.#rejected > 0) {
      const kept = rejectsName === null ? "--rejects FILE keeps them" : `they are kept in ${rejectsName}`;
      note(`${this.#rejected} records rejected; ${kept}`);
    }
    if (from > 1)
      note(`Written from ${unit} ${from} on; what stands before it was read for what it tells of the tags.`);
    if (out) note(`${out.path} holds ${holds}`);
    if (end.kind === "trouble") {
      note(`plyframe: ${end.says}`);
      process.exitCode = EXIT.device;
    } else if (end.kind === "stopped") {
      note(`Stopped before ${unit} ${end.before}; everything before it is done. To go on${again(this.#options)}:`);
      note(`  ${goOn(end.before)}`);
      process.exitCode = end.status;
    } else if (this.#rejected > 0 || recording.isEmpty()) process.exitCode ??= EXIT.rejected;
  }
}

/** Standard input must be given once more. */
function again({ source }: DecodingOptions): string {
  return source.file === null ? ", with the same input" : "";
}
