/** Everything the page knows of the session. No DOM: views listen to it and draw. */
import type {
  CalibrationState,
  ErrorMessage,
  FeedState,
  Hello,
  Mark,
  PastMessage,
  PastPoint,
  PresenceMessage,
  ReadingsMessage,
  ServerMessage,
  StateMessage,
} from "../../view/messages.ts";
import type { PageMessage } from "../../view/requests.ts";
import type { Preferences } from "./preferences.ts";
import { SessionClock } from "./session-clock.ts";
import { isInvalid } from "./shown.ts";
import { Site } from "./site.ts";
import { TimeWindow } from "./time-window.ts";
import { Tools } from "./tools.ts";

/**
 * How the page stands with the server. `opening`: not connected yet. `open`: messages come. `lost`: it was there and is not. `unpaired`: it
 * wants a code. `kept`: not there, and the session shown is the one kept from an earlier time. `other`: it speaks another version than this page.
 */
export type LinkState = "opening" | "open" | "lost" | "unpaired" | "kept" | "other";

export class Store {
  readonly preferences: Preferences;
  readonly clock: SessionClock;
  link: LinkState = "opening";
  hello: Hello | null = null;
  state: StateMessage | null = null;
  /** By EPC, the named ones first, in their order. */
  readonly sites = new Map<string, Site>();
  marks: readonly Mark[] = [];
  /** The last one that was made while this page listened. */
  lastMark: Mark | null = null;
  presence: PresenceMessage | null = null;
  calibration: CalibrationState | null = null;
  /** The last refusal. */
  error: ErrorMessage | null = null;
  /** When the kept session was last added to; null unless `kept`. */
  keptAt: Date | null = null;
  /** Session time at which the kept session or the recording ended; null while time goes on. */
  endedS: number | null = null;
  /** Points that the server no longer had when this page came. */
  leftOut = 0;
  /** Highest pressure shown in this session, its uncertainty included. */
  highestMmhg = 0;
  /** What is shown over time, and the EPCs of the sites left out there: they outlive the view. */
  readonly window = new TimeWindow();
  readonly hidden = new Set<string>();
  readonly tools = new Tools();
  readonly #listeners = new Set<() => void>();
  #send: ((message: PageMessage) => boolean) | null = null;

  /** `nowMs`: a clock that never goes back. */
  constructor(preferences: Preferences, nowMs: () => number) {
    this.preferences = preferences;
    this.clock = new SessionClock(nowMs);
  }

  /** Calls `listener` after each change, until what is returned is called. */
  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  changed(): void {
    for (const listener of this.#listeners) listener();
  }

  /** Whether the message was handed to a server. */
  send(message: PageMessage): boolean {
    return this.#send?.(message) ?? false;
  }

  sendBy(send: ((message: PageMessage) => boolean) | null): void {
    this.#send = send;
  }

  setLink(link: LinkState): void {
    if (this.link === link) return;
    this.link = link;
    if (link !== "kept") this.keptAt = null;
    this.changed();
  }

  /** Shows a session kept from an earlier time: `nowS` is its last moment, `keptAt` the same by the calendar, `agoS` how long that is ago. */
  takeKept(hello: Hello, past: PastMessage, nowS: number, keptAt: Date, agoS: number): void {
    this.take(hello);
    this.take(past);
    this.clock.set(nowS + agoS, 1);
    this.setLink("kept");
    [this.keptAt, this.endedS] = [keptAt, nowS];
    this.changed();
  }

  /** Session time of the first sample kept; the edge, when there is none. */
  get firstS(): number {
    const firsts = [...this.sites.values()].flatMap(({ trace }) => (trace.length > 0 ? [trace.timeS(0)] : []));
    return Math.min(this.edgeS, ...firsts);
  }

  /** Session time at the right end of what is drawn over time. */
  get edgeS(): number {
    return this.endedS ?? this.clock.nowS;
  }

  /** One word for how the feed stands, from both ends of it. */
  get feed(): FeedState | Exclude<LinkState, "open"> {
    return this.link === "open" ? (this.state?.state ?? "connecting") : this.link;
  }

  take(message: ServerMessage): void {
    switch (message.type) {
      case "hello":
        this.#takeHello(message);
        break;
      case "past":
        this.#takePast(message);
        break;
      case "readings":
        this.#takeReadings(message);
        break;
      case "words":
        for (const words of message.words) this.#site(words.epc).takeWords(words);
        break;
      case "presence":
        this.#takePresence(message);
        break;
      case "state":
        this.#takeState(message);
        break;
      case "mark":
        this.lastMark = message.mark;
        this.marks = [...this.marks.filter(({ id }) => id !== message.mark.id), message.mark];
        break;
      case "unmarked":
        this.marks = this.marks.filter(({ id }) => id !== message.id);
        break;
      case "calibration":
        this.calibration = message;
        break;
      case "error":
        this.error = message;
        break;
    }
    this.changed();
  }

  /** Forgets the session, as if no server had ever answered. */
  clear(): void {
    this.sites.clear();
    [this.hello, this.state, this.presence, this.calibration, this.error] = [null, null, null, null, null];
    [this.marks, this.leftOut, this.highestMmhg, this.endedS] = [[], 0, 0, null];
    this.clock.set(0, 1);
    this.changed();
  }

  #takeHello(hello: Hello): void {
    if (this.hello?.session !== hello.session) this.clear();
    this.hello = hello;
    this.#takeState(hello.state);
    this.marks = hello.marks;
    this.calibration = hello.calibration;
    this.clock.set(this.clock.heardS, hello.speed);
    for (const { epc, site } of hello.sites) if (!this.sites.has(epc)) this.sites.set(epc, new Site(epc, site));
    for (const words of hello.words) this.#site(words.epc).takeWords(words);
  }

  #takeState(state: StateMessage): void {
    this.state = state;
    this.endedS = state.state === "ended" ? (this.endedS ?? this.clock.nowS) : null;
  }

  #takePast(past: PastMessage): void {
    this.leftOut = past.left_out;
    const byTag = new Map<string, PastPoint[]>();
    for (const point of past.points) {
      const points = byTag.get(point.epc);
      if (points) points.push(point);
      else byTag.set(point.epc, [point]);
      this.#reaches(point.gauge_mmhg, point.expanded_uncertainty_mmhg);
    }
    for (const [epc, points] of byTag) this.#site(epc).takePast(points);
    for (const timed of past.latest) {
      this.#site(timed.reading.epc).latest = timed;
      if (timed.time_s > this.clock.heardS) this.clock.set(timed.time_s);
    }
  }

  #takeReadings({ now_s, earlier, readings, waveforms, unread }: ReadingsMessage): void {
    this.clock.set(now_s);
    for (const point of earlier) {
      this.#site(point.epc).takePoint(point);
      this.#reaches(point.gauge_mmhg, point.expanded_uncertainty_mmhg);
    }
    for (const timed of readings) {
      const { reading } = timed;
      this.#site(reading.epc).takeReading(timed);
      if (!isInvalid(reading.quality)) this.#reaches(reading.gauge_mmhg, reading.expanded_uncertainty_mmhg);
    }
    for (const timed of waveforms) this.#site(timed.waveform.epc).waveform = timed;
    for (const record of unread) this.#site(record.epc).unread = record;
  }

  #takePresence(presence: PresenceMessage): void {
    this.clock.set(presence.now_s);
    this.presence = presence;
    for (const tag of presence.tags) {
      const site = this.#site(tag.epc);
      site.presence = tag;
      site.heard.add(presence.now_s, tag);
    }
  }

  #reaches(gaugeMmhg: number | null, uncertaintyMmhg: number | null): void {
    if (gaugeMmhg !== null) this.highestMmhg = Math.max(this.highestMmhg, gaugeMmhg + (uncertaintyMmhg ?? 0));
  }

  #site(epc: string): Site {
    let site = this.sites.get(epc);
    if (!site) this.sites.set(epc, (site = new Site(epc, null)));
    return site;
  }
}
