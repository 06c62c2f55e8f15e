/** The session as pages see it: takes reports and outcomes from whatever reads, makes messages of them, answers requests. */
import type { AmbientReport, TagReport } from "../reader/report.ts";
import { bandScheme } from "../readings/bands.ts";
import { cautions } from "../readings/cautions.ts";
import type { Outcome, Reading } from "../readings/reading.ts";
import { readingJson } from "../readings/reading-json.ts";
import { Batch } from "./batch.ts";
import type { Guide } from "./guide.ts";
import { LastWords } from "./last-words.ts";
import { Marks } from "./marks.ts";
import {
  CONTRACT,
  type ErrorCode,
  type FeedState,
  type Hello,
  type PresenceMessage,
  type ReadingRecord,
  type ServerMessage,
  type StateMessage,
  type TagPresence,
  TICK_MS,
  type WaveformRecord,
} from "./messages.ts";
import { Past } from "./past.ts";
import type { PageMessage } from "./requests.ts";
import { SessionClock } from "./session-clock.ts";

/** Below this the firmware gives a sample up as a brown-out: PLY_SUPPLY_LOW_MV in protocol/firmware/plyframe.h. */
export const SUPPLY_LOW_V = 1.8;

/** Ticks from one message of words to the next, and from one of presence to the next. */
const WORDS_TICKS = 200 / TICK_MS;
const PRESENCE_TICKS = 500 / TICK_MS;

/** What stays the same for a session. */
export type FeedFacts = Pick<
  Hello,
  "program" | "session" | "source" | "source_name" | "scene" | "speed" | "layout" | "fingerprint" | "sites"
> & {
  /** Rounds of inventory a second; null for a recording. */
  readonly roundsPerSecond: number | null;
};

/** Messages to every page; `passing` ones are overtaken by the next of their kind. */
export type Broadcast = (message: ServerMessage, passing: boolean) => void;

export class BenchFeed {
  readonly #facts: FeedFacts;
  readonly #nowMs: () => number;
  readonly #started = new Date();
  readonly #clock: SessionClock;
  readonly #batch = new Batch();
  readonly #past = new Past();
  readonly #words = new LastWords();
  readonly #marks = new Marks();
  readonly #guide: Guide;
  #broadcast: Broadcast = () => undefined;
  #state: StateMessage = {
    type: "state",
    state: "connecting",
    sentence: null,
    attempt: null,
    next_try_s: null,
  };
  #presence: readonly TagPresence[] = [];
  #ticks = 0;

  /** `nowMs`: the wall's clock, in milliseconds from anywhere. */
  constructor(facts: FeedFacts, guide: Guide, nowMs: () => number) {
    this.#facts = facts;
    this.#guide = guide;
    this.#nowMs = nowMs;
    this.#clock = new SessionClock(facts.speed);
    guide.onState = (state) => this.#broadcast(state, false);
  }

  /** Where messages to the pages go from now on. */
  to(broadcast: Broadcast): void {
    this.#broadcast = broadcast;
  }

  /** The reader answered, or a recording began anew: its clock may be another. */
  began(): void {
    this.#clock.anew();
    this.#turn("live", null);
  }

  lost(sentence: string): void {
    this.#turn("reconnecting", sentence);
  }

  /** A try that follows after a wait. */
  trying(attempt: number, nextTryS: number): void {
    this.#turn("reconnecting", this.#state.sentence, attempt, nextTryS);
  }

  ended(sentence: string | null): void {
    this.#turn("ended", sentence);
  }

  report(report: TagReport | AmbientReport): void {
    const timeS = this.#clock.see(report.kitTimeUs, this.#nowMs());
    if (report.kind === "read") this.#words.add(report, timeS);
  }

  outcome(outcome: Outcome): void {
    const time_s = this.#clock.see(outcome.kitTimeUs, this.#nowMs());
    if (outcome.kind === "unread") {
      const { epc, reason, sentence } = outcome;
      this.#batch.unread({ time_s, epc, reason, sentence });
    } else if (outcome.kind === "waveform") {
      this.#batch.waveform({ time_s, waveform: readingJson(outcome) as WaveformRecord });
    } else this.#reading(outcome, time_s);
  }

  present(tags: readonly TagPresence[]): void {
    this.#presence = tags;
  }

  /** To be called every TICK_MS: what came since goes to the pages. */
  tick(): void {
    this.#flush();
    if (this.#ticks % WORDS_TICKS === 0) {
      this.#guide.tick();
      const words = this.#words.takeNews();
      if (words.length > 0) this.#broadcast({ type: "words", words }, true);
    }
    if (this.#ticks % PRESENCE_TICKS === 0) this.#broadcast(this.#presenceMessage(), true);
    this.#ticks++;
  }

  /** What a page is told first; `page` is its number. */
  greeting(page: number): ServerMessage[] {
    // What waits for the tick is in the past that this page is told, and goes to the others before it comes.
    this.#flush();
    const { roundsPerSecond: _, ...facts } = this.#facts;
    const hello: Hello = {
      type: "hello",
      contract: CONTRACT,
      page,
      ...facts,
      cautions,
      band_scheme: bandScheme,
      supply_low_v: SUPPLY_LOW_V,
      started: this.#started.toISOString(),
      marks: this.#marks.list,
      state: this.#state,
      words: this.#words.all(),
      calibration: this.#guide.state(),
    };
    return [hello, this.#past.message(), this.#presenceMessage()];
  }

  /** What a page asks for; an answer is for it alone. */
  request(page: number, message: PageMessage): ServerMessage | null {
    switch (message.type) {
      case "mark": {
        if (this.#past.isEmpty) return refusal("nothing_read_yet", "nothing was read yet that could be marked");
        const mark = this.#marks.add(message.kind, message.text, this.#nowS, new Date());
        this.#broadcast({ type: "mark", mark }, false);
        return null;
      }
      case "unmark":
        if (this.#marks.remove(message.id)) this.#broadcast({ type: "unmarked", id: message.id }, false);
        return null;
      case "calibrate":
        return this.#guide.request(page, message);
    }
  }

  /** A page is gone. */
  left(page: number): void {
    this.#guide.left(page);
  }

  #flush(): void {
    const readings = this.#batch.take(this.#nowS);
    if (readings) this.#broadcast(readings, true);
  }

  get #nowS(): number {
    return this.#clock.nowS(this.#nowMs());
  }

  #reading(reading: Reading, time_s: number): void {
    const timed = { time_s, reading: readingJson(reading) as ReadingRecord };
    this.#batch.reading(timed);
    this.#past.add(timed);
    this.#guide.reading(reading, time_s);
  }

  #presenceMessage(): PresenceMessage {
    return {
      type: "presence",
      now_s: this.#nowS,
      rounds_per_second: this.#facts.roundsPerSecond,
      tags: this.#presence,
      dropped: 0,
    };
  }

  #turn(state: FeedState, sentence: string | null, attempt: number | null = null, next: number | null = null): void {
    this.#state = { type: "state", state, sentence, attempt, next_try_s: next };
    this.#broadcast(this.#state, false);
  }
}

function refusal(code: ErrorCode, sentence: string): ServerMessage {
  return { type: "error", code, sentence };
}
