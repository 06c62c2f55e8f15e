/** The captures of a session, merged by time into one series a tag. */
import { formatFingerprint, type Layout } from "../../protocol/index.ts";
import { CaptureReader } from "../capture/capture-reader.ts";
import type { CaptureHeader } from "../capture/item.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";
import type { AmbientSource } from "../readings/ambient.ts";
import { stepsOf } from "../readings/pressure.ts";
import { ReadingStream } from "../readings/reading-stream.ts";
import type { AmbientLog } from "./ambient-log.ts";
import { KitClock } from "./kit-clock.ts";
import type { ProblemList } from "./problem-list.ts";
import { type AmbientOrigin, addReading, addWaveform, emptySeries, type Series } from "./series.ts";
import type { SessionFile } from "./session-file.ts";

/** Clocks of reader and host further apart than this are told. */
const CLOCKS_APART_MS = 2000;

export interface CaptureSource {
  readonly name: string;
  readonly bytes: AsyncIterable<Uint8Array | string>;
}

/** One stretch between a capture header and the next. */
export interface CaptureSpan {
  /** Which capture of the session file, from 0. */
  readonly capture: number;
  readonly clock: KitClock;
  readonly startedMs: number;
}

export interface Merged {
  readonly series: readonly Series[];
  readonly spans: readonly CaptureSpan[];
  readonly fromMs: number;
  readonly toMs: number;
  /** Fingerprints named in the headers. */
  readonly fingerprints: readonly string[];
}

/** Opens capture `index` of the session file; may throw what the file system says. */
export type OpenCapture = (index: number) => CaptureSource;

export class CaptureMerge {
  readonly #session: SessionFile;
  readonly #layout: Layout;
  readonly #log: AmbientLog | null;
  readonly #problems: ProblemList;
  readonly #series: Map<string, Series>;
  readonly #spans: CaptureSpan[] = [];
  readonly #fingerprints = new Set<string>();
  readonly #strangers = new Map<string, number>();

  constructor(session: SessionFile, layout: Layout, log: AmbientLog | null, problems: ProblemList) {
    this.#session = session;
    this.#layout = layout;
    this.#log = log;
    this.#problems = problems;
    this.#series = new Map(session.tags.map((tag) => [tag.epc, emptySeries(tag)]));
  }

  /** Reads every capture. Errors of a stream come out; what the bytes say goes to the problems. */
  async run(open: OpenCapture): Promise<Merged> {
    for (let index = 0; index < this.#session.captures.length; index++) await this.#capture(index, open(index));
    for (const [epc, reads] of this.#strangers) {
      this.#problems.add(`tag ${epc} is heard (${reads} reads) but is no tag of the session: left out`);
    }
    for (const { tag, samples } of this.#series.values()) {
      if (samples.length === 0) this.#problems.add(`tag ${tag.epc} (${tag.site}) is in the session but gave no frame`);
    }
    const starts = this.#spans.map(({ startedMs }) => startedMs);
    const ends = this.#spans.map(({ clock }) => clock.lastMs);
    return {
      series: [...this.#series.values()],
      spans: this.#spans,
      fromMs: Math.min(...starts),
      toMs: Math.max(...ends),
      fingerprints: [...this.#fingerprints],
    };
  }

  async #capture(index: number, { name, bytes }: CaptureSource): Promise<void> {
    const reader = new CaptureReader(bytes, name, this.#layout);
    const { started } = this.#session.captures[index]!;
    let stretch: Stretch | null = null;
    let rejected = 0;
    let earliest: string | undefined = started;
    for await (const item of reader) {
      if ("header" in item) {
        this.#fingerprints.add(formatFingerprint(item.header.fingerprint));
        stretch = this.#stretch(index, name, earliest ?? item.header.started, item.header);
        // A start given in the session file is that of the file's first header.
        earliest = undefined;
      } else if ("notice" in item) this.#problems.add(item.notice.sentence);
      else if ("reject" in item) {
        this.#problems.reject(rejected++ < 3 ? item.reject.sentence : null);
      } else if ("report" in item) {
        if (!stretch && earliest === undefined) {
          this.#problems.add(`${name}: no header and no "started" in the session file: nobody knows when it was taken`);
          return;
        }
        stretch ??= this.#stretch(index, name, earliest!, null);
        this.#report(stretch, item.report, `${name}:${item.place.line}`);
      }
    }
    if (rejected > 3) this.#problems.add(`${name}: ${rejected} lines in all cannot be read`);
  }

  #stretch(capture: number, name: string, started: string, header: CaptureHeader | null): Stretch {
    const startedMs = Date.parse(started);
    const before = this.#spans.at(-1)?.clock.lastMs;
    if (before !== undefined && startedMs < before - CLOCKS_APART_MS) {
      const apartS = ((before - startedMs) / 1000).toFixed(1);
      this.#problems.add(
        `${name}: starts at ${started} by the host, ${apartS} s before the end of the capture before it by the reader: one of the two clocks jumped; times may overlap`,
      );
    }
    const clock = new KitClock(startedMs);
    this.#spans.push({ capture, clock, startedMs });
    const { source, origin, uncertaintyPa } = this.#ambient(header);
    const stream = new ReadingStream(this.#layout, { started, barometerUncertaintyPa: uncertaintyPa }, source);
    return { clock, stream, origin };
  }

  #ambient(header: CaptureHeader | null): {
    source: AmbientSource;
    origin: AmbientOrigin;
    uncertaintyPa: number | null;
  } {
    const { source, epc, pressure_hpa: hpa, expanded_uncertainty_hpa: uncertaintyHpa } = this.#session.ambient;
    const stated = uncertaintyHpa === undefined ? null : uncertaintyHpa * 100;
    const kit = header?.barometerUncertaintyPa ?? null;
    if (source === "kit") return { source: { kind: "kit_barometer" }, origin: "kit_barometer", uncertaintyPa: kit };
    // Rows of a log go into the stream as if they came from the reader, which is why the origin is kept beside it.
    if (source === "log") return { source: { kind: "kit_barometer" }, origin: "ambient_log", uncertaintyPa: stated };
    if (source === "tag")
      return { source: { kind: "outside_tag", epc: epc! }, origin: "outside_tag", uncertaintyPa: kit };
    if (source === "none") return { source: { kind: "none" }, origin: "none", uncertaintyPa: kit };
    const typed = { kind: "typed", pressurePa: hpa! * 100, expandedUncertaintyPa: stated } as const;
    return { source: typed, origin: "typed", uncertaintyPa: kit };
  }

  #report({ clock, stream, origin }: Stretch, report: TagReport | AmbientReport, place: string): void {
    const backS = clock.place(report.kitTimeUs);
    if (backS > 0) {
      this.#problems.add(
        `${place}: the reader's clock went back by ${backS.toFixed(3)} s: it restarted or was set; times after it may be too early`,
        `${place.slice(0, place.lastIndexOf(":"))} clock back`,
      );
    }
    if (report.kind === "ambient") {
      if (origin === "kit_barometer") stream.push(report);
      return;
    }
    const timeMs = clock.utcMs(report.kitTimeUs);
    if (origin === "ambient_log") {
      const row = this.#log?.at(timeMs);
      if (row) {
        const kitTimeUs = report.kitTimeUs - (timeMs - row.timeMs) * 1000;
        stream.push({ kind: "ambient", kitTimeUs, pressureRaw: stepsOf(row.pressurePa), temperatureC: null });
      }
    }
    const series = this.#series.get(report.epc);
    const outcomes = stream.push(report);
    if (!series) {
      const outside = this.#session.ambient.source === "tag" && report.epc === this.#session.ambient.epc;
      if (!outside) this.#strangers.set(report.epc, (this.#strangers.get(report.epc) ?? 0) + 1);
      return;
    }
    for (const outcome of outcomes) {
      if (outcome.kind === "unread") series.failed++;
      else if (outcome.kind === "waveform") addWaveform(series, outcome, timeMs);
      else if (!outcome.quality.includes("repeated")) addReading(series, outcome, timeMs, origin);
    }
  }
}

interface Stretch {
  readonly clock: KitClock;
  readonly stream: ReadingStream;
  readonly origin: AmbientOrigin;
}
