/** The last Read of each tag at each place of its memory, as words. */
import type { TagReport } from "../reader/report.ts";
import type { WordsRecord } from "./messages.ts";

/** Tags and places kept: far more than lie on a bench; a hostile air must not fill the memory. */
const PLACES_KEPT = 1024;

export class LastWords {
  readonly #places = new Map<string, WordsRecord>();
  readonly #news = new Set<string>();

  /** A Read that failed leaves the words of the one before. */
  add(report: TagReport, timeS: number): void {
    if (report.result !== "done" || report.words.length === 0) return;
    const { epc, bank, word } = report;
    const place = `${epc} ${bank} ${word}`;
    if (this.#places.size >= PLACES_KEPT && !this.#places.has(place)) return;
    const hex = report.words.map((value) => value.toString(16).padStart(4, "0")).join("");
    this.#places.set(place, { time_s: timeS, epc, bank, word, hex });
    this.#news.add(place);
  }

  all(): WordsRecord[] {
    return [...this.#places.values()];
  }

  /** Those that came since the last call. */
  takeNews(): WordsRecord[] {
    const news = [...this.#news].map((place) => this.#places.get(place)!);
    this.#news.clear();
    return news;
  }
}
