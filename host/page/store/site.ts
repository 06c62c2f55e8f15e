/** What is known of one tag. */
import type {
  PastPoint,
  TagPresence,
  TimedReading,
  TimedWaveform,
  UnreadRecord,
  WordsRecord,
} from "../../view/messages.ts";
import { HeardShare } from "./power.ts";
import { isInvalid } from "./shown.ts";
import { Trace } from "./trace.ts";

export class Site {
  readonly epc: string;
  /** As named by whoever started the server; null for a tag that nobody named. */
  readonly name: string | null;
  readonly trace = new Trace();
  readonly heard = new HeardShare();
  /** The latest words of each place, by bank and first word: `user:0`. */
  readonly words = new Map<string, WordsRecord>();
  latest: TimedReading | null = null;
  presence: TagPresence | null = null;
  waveform: TimedWaveform | null = null;
  /** The last Read without a reading; null once a reading came after it. */
  unread: UnreadRecord | null = null;
  /** Samples that came with an earlier time than one before them, and are not in the trace. */
  outOfOrder = 0;

  constructor(epc: string, name: string | null) {
    this.epc = epc;
    this.name = name;
  }

  /** Name, or the last eight digits of the EPC. */
  get label(): string {
    return this.name ?? `…${this.epc.slice(-8)}`;
  }

  /** Of the tag, as its header says; null when it was not read. */
  get samplingPeriodS(): number | null {
    return this.latest?.reading.tag?.sampling_period_s ?? null;
  }

  takeReading(timed: TimedReading): void {
    this.latest = timed;
    this.unread = null;
    const { reading, time_s } = timed;
    const { quality } = reading;
    // Not a new sample, or one whose time is long past and not known.
    if (quality.includes("repeated") || quality.includes("sequence_back")) return;
    const gaugeMmhg = isInvalid(quality) ? null : reading.gauge_mmhg;
    const taken = this.trace.push(time_s - reading.age_s, gaugeMmhg, reading.expanded_uncertainty_mmhg);
    if (!taken) this.outOfOrder++;
  }

  takePoint(point: PastPoint): void {
    if (!this.trace.push(point.time_s, point.gauge_mmhg, point.expanded_uncertainty_mmhg)) this.outOfOrder++;
  }

  /** Points of the past, in order of time: they replace what the trace holds of that time. */
  takePast(points: readonly PastPoint[]): void {
    const [first] = points;
    if (!first) return;
    this.trace.cutFrom(first.time_s);
    for (const point of points) this.takePoint(point);
  }

  takeWords(words: WordsRecord): void {
    this.words.set(`${words.bank}:${words.word}`, words);
  }
}
