/** Tells a screen reader of changes, not of numbers, and not often. */

import { type Shows, shownOf } from "../store/shown.ts";
import type { Site } from "../store/site.ts";
import type { Store } from "../store/store.ts";
import { type Verdict, verdictOf } from "../store/verdict.ts";
import type { PlainKey, Text } from "../text/text.ts";

/** Least time between two announcements. */
const PAUSE_MS = 5000;

/** What of a site is worth telling. */
export interface Standing {
  readonly shows: Shows;
  readonly place: Verdict["place"] | null;
}

type Change = "silent" | "back" | "invalid" | "inside" | "below" | "above";

/** What changed between two standings of a site; null: nothing to tell. At the edge nothing is: it would come and go. */
export function changeOf(before: Standing, now: Standing): Change | null {
  if (now.shows !== before.shows) {
    if (now.shows === "stale") return "silent";
    if (now.shows === "invalid") return "invalid";
    if (before.shows === "stale" || before.shows === "invalid") return "back";
  }
  const { place } = now;
  return place !== null && place !== "edge" && place !== before.place ? place : null;
}

/** Sentences for the live region, gathered while it pauses: of each site the last one, and none where all is as it was told. */
export class Announcer {
  readonly #store: Store;
  readonly #text: Text;
  readonly #told = new Map<string, Standing>();
  #lastMs = Number.NEGATIVE_INFINITY;

  constructor(store: Store, text: Text) {
    this.#store = store;
    this.#text = text;
  }

  /** What is to be said now; null: nothing. */
  next(nowMs: number): string | null {
    if (nowMs - this.#lastMs < PAUSE_MS) return null;
    const sentences: string[] = [];
    for (const site of this.#store.sites.values()) {
      const standing = standingOf(site, this.#store);
      const before = this.#told.get(site.epc);
      // A verdict at the edge is as the one before it.
      const told = standing.place === "edge" && before ? { ...standing, place: before.place } : standing;
      this.#told.set(site.epc, told);
      const change = before ? changeOf(before, standing) : null;
      if (change) sentences.push(this.#text.say(`say.${change}`, { site: site.label }));
    }
    if (sentences.length === 0) return null;
    this.#lastMs = nowMs;
    return `${sentences.join(". ")}.`;
  }
}

function standingOf(site: Site, { clock, preferences }: Store): Standing {
  const { shows, gaugeMmhg, uncertaintyMmhg } = shownOf(site.latest, clock.nowS);
  const range = preferences.rangeOf(site.epc);
  const verdict = shows === "number" ? verdictOf(gaugeMmhg, uncertaintyMmhg, range) : null;
  return { shows, place: verdict?.place ?? null };
}

/** Every site in one sentence each, for whoever asks. */
export function readOut({ sites, clock }: Store, text: Text): string {
  const words: { readonly [shows in Exclude<Shows, "number" | "unsure">]: PlainKey } = {
    absolute: "now.absolute",
    invalid: "now.invalid",
    stale: "now.stale",
    absent: "now.absent",
  };
  const sentences = [...sites.values()].map((site) => {
    const { shows, gaugeMmhg, uncertaintyMmhg } = shownOf(site.latest, clock.nowS);
    if (shows !== "number" && shows !== "unsure")
      return text.say("say.site", { site: site.label, what: text.say(words[shows]) });
    return text.say("say.site", { site: site.label, what: spokenValue(gaugeMmhg!, uncertaintyMmhg, text) });
  });
  return sentences.length === 0 ? text.say("now.none") : sentences.join(" ");
}

/** A pressure in words that a voice can say. */
export function spokenValue(gaugeMmhg: number, uncertaintyMmhg: number | null, text: Text): string {
  const value = text.number(gaugeMmhg, 1);
  if (uncertaintyMmhg === null) return text.say("now.value.unsure.spoken", { value });
  return text.say("now.value.spoken", { value, uncertainty: text.uncertainty(uncertaintyMmhg, 1) });
}
