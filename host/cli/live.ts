/** A reader under way: every report goes into the capture first, then becomes readings; missing blocks are fetched. */
import { layout } from "../../protocol/index.ts";
import type { CaptureWriter } from "../capture/capture-writer.ts";
import type { Reader } from "../reader/reader.ts";
import { ReaderError } from "../reader/reader-error.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";
import type { Outcome, Reading } from "../readings/reading.ts";
import { MOST_TAGS, type ReadingStream } from "../readings/reading-stream.ts";
import { RecentMap } from "../readings/recent-map.ts";

/** What one Gen2 Read of at most 32 words fetches: header, both slots and counters; both calibration copies; the burst. */
function range(first: string, last: string): { readonly word: number; readonly count: number } {
  const regions = layout.banks.find(({ id }) => id === "user")!.regions;
  const from = regions.find(({ id }) => id === first)!;
  const to = regions.find(({ id }) => id === last)!;
  return { word: from.word, count: to.word + to.words - from.word };
}

export const SERVICE = range("header", "counters_a");
const CALIBRATION = range("calibration_1", "calibration_2");
const BURST = range("burst", "burst");

/** The last try to read a tag's calibration. */
interface Fetched {
  readonly triedUs: number;
  underWay: boolean;
  /** What the tag's counters said then. */
  readonly reuseCycles: number | null;
}

/** Kit time between two tries to fetch the calibration of the same tag. */
const RETRY_US = 500_000;

export interface LiveOptions {
  readonly reader: Reader;
  readonly readings: ReadingStream;
  readonly capture: CaptureWriter | null;
  /** Every report, before what became of it. */
  readonly onReport?: (report: TagReport | AmbientReport) => void;
  readonly onOutcome: (outcome: Outcome) => void;
}

export class Live {
  readonly #options: LiveOptions;
  readonly #calibrations = new RecentMap<string, Fetched>(MOST_TAGS);
  #pending: Promise<void> = Promise.resolve();
  #firstUs: number | null = null;
  #lastUs = 0;
  #lastMs = performance.now();

  constructor(options: LiveOptions) {
    this.#options = options;
    options.reader.on("report", (report) => this.take(report));
  }

  /** Kit time now: that of the newest report, and what the host's clock says since, so that silence ages what was seen. */
  get nowUs(): number {
    return this.#lastUs + (performance.now() - this.#lastMs) * 1000;
  }

  /** Time since the first report, or since the beginning while there is none, in seconds. */
  get coveredS(): number {
    return (this.nowUs - (this.#firstUs ?? 0)) / 1e6;
  }

  /** Resolves when everything reported so far is in the capture. */
  settled(): Promise<void> {
    return this.#pending;
  }

  /** One report, as the reader gives it or gave it before this began. */
  take(report: TagReport | AmbientReport): void {
    this.#firstUs ??= report.kitTimeUs;
    this.#lastUs = Math.max(this.#lastUs, report.kitTimeUs);
    this.#lastMs = performance.now();
    const { capture, readings, onReport, onOutcome } = this.#options;
    onReport?.(report);
    // A capture that is lost was told by its file; the readings go on.
    if (capture) this.#pending = capture.report(report).catch(() => undefined);
    const outcomes = readings.push(report);
    for (const outcome of outcomes) onOutcome(outcome);
    const reading = outcomes.find((outcome) => outcome.kind === "reading");
    if (report.kind !== "read" || !reading) return;
    this.#wantCalibration(report, reading);
    if (isNewBurst(reading.quality)) void this.#fetch(report, BURST);
  }

  /** Once when a tag is first seen, again when it could not be read, and when a reuse cycle was counted since. */
  #wantCalibration(report: TagReport, { quality, counters }: Reading): void {
    const reuseCycles = counters?.reuseCycles ?? null;
    const last = this.#calibrations.get(report.epc);
    const missing = quality.includes("calibration_not_read") || quality.includes("calibration_unreadable");
    if (last && (last.underWay || (!missing && reuseCycles === last.reuseCycles))) return;
    if (last && report.kitTimeUs - last.triedUs < RETRY_US) return;
    const fetched = { triedUs: report.kitTimeUs, underWay: true, reuseCycles };
    this.#calibrations.set(report.epc, fetched);
    void this.#fetch(report, CALIBRATION).then(() => {
      fetched.underWay = false;
    });
  }

  /** Reads words of the tag just seen; what comes back is a report like any other. */
  async #fetch(seen: TagReport, words: { readonly word: number; readonly count: number }): Promise<void> {
    try {
      const answer = await this.#options.reader.read({ epc: seen.epc, bank: "user", ...words });
      const { result, kitTimeUs } = answer;
      this.take({ ...seen, rssiDbm: null, kitTimeUs, result, bank: "user", word: words.word, words: answer.words });
    } catch (error) {
      // The reader said why it could not; a later sighting of the tag tries again.
      if (!(error instanceof ReaderError)) throw error;
    }
  }
}

function isNewBurst(quality: readonly string[]): boolean {
  return quality.includes("burst_ready") && !quality.includes("repeated");
}
