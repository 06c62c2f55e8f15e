/** What came since the last tick, at most one reading a tag. */
import type { PastPoint, ReadingsMessage, TimedReading, TimedWaveform, UnreadRecord } from "./messages.ts";
import { pointOf } from "./point.ts";

/** Tags whose failed Reads are kept until the next tick. */
const UNREAD_KEPT = 64;

export class Batch {
  #readings = new Map<string, TimedReading>();
  #earlier: PastPoint[] = [];
  #waveforms: TimedWaveform[] = [];
  #unread = new Map<string, UnreadRecord>();

  reading(timed: TimedReading): void {
    const { epc, quality } = timed.reading;
    const before = this.#readings.get(epc);
    // A repeat says nothing that the first sight of the same frame does not.
    if (before && quality.includes("repeated") && !before.reading.quality.includes("repeated")) return;
    const earlier = before && pointOf(before);
    if (earlier) this.#earlier.push(earlier);
    this.#readings.set(epc, timed);
  }

  waveform(timed: TimedWaveform): void {
    this.#waveforms.push(timed);
  }

  /** The last of each tag. */
  unread(record: UnreadRecord): void {
    if (this.#unread.size < UNREAD_KEPT || this.#unread.has(record.epc)) this.#unread.set(record.epc, record);
  }

  /** Everything since the last call; null when there is nothing. */
  take(nowS: number): ReadingsMessage | null {
    const message: ReadingsMessage = {
      type: "readings",
      now_s: nowS,
      earlier: this.#earlier,
      readings: [...this.#readings.values()],
      waveforms: this.#waveforms,
      unread: [...this.#unread.values()],
    };
    if (message.readings.length + message.waveforms.length + message.unread.length === 0) return null;
    this.#readings = new Map();
    this.#earlier = [];
    this.#waveforms = [];
    this.#unread = new Map();
    return message;
  }
}
