/** Keeps the readings of the last session in this browser, so that they can be looked at without the server. */
import type {
  Hello,
  Mark,
  PastMessage,
  PastPoint,
  ReadingsMessage,
  ServerMessage,
  TimedReading,
} from "../../view/messages.ts";
import { isInvalid } from "../store/shown.ts";

const DATABASE = "plyframe-bench";

/** Points kept: more than five hours of four tags at five samples a second; the oldest give way. */
const POINT_LIMIT = 400_000;

const FLUSH_MS = 5000;

interface Head {
  hello: Hello;
  marks: readonly Mark[];
  latest: readonly TimedReading[];
  /** Session time of the last message. */
  nowS: number;
  /** The same by the calendar, in ms since 1970. */
  atMs: number;
  /** Time of the last point kept. */
  lastS: number;
  points: number;
}

/** A session as it was kept. */
export interface KeptSession {
  readonly hello: Hello;
  readonly past: PastMessage;
  readonly nowS: number;
  readonly at: Date;
}

export class Keeper {
  readonly #database: IDBDatabase;
  #head: Head | null = null;
  readonly #latest = new Map<string, TimedReading>();
  #pending: PastPoint[] = [];
  #work: Promise<void> = Promise.resolve();

  /** Null where the browser keeps nothing for this page. */
  static async open(): Promise<Keeper | null> {
    try {
      const request = indexedDB.open(DATABASE, 1);
      request.onupgradeneeded = () => {
        request.result.createObjectStore("head");
        request.result.createObjectStore("points", { autoIncrement: true });
      };
      return new Keeper(await done(request));
    } catch {
      return null;
    }
  }

  private constructor(database: IDBDatabase) {
    this.#database = database;
    setInterval(() => void this.flush(), FLUSH_MS);
    addEventListener("pagehide", () => void this.flush());
    document.addEventListener("visibilitychange", () => void this.flush());
  }

  take(message: ServerMessage): void {
    switch (message.type) {
      case "hello":
        this.#work = this.#work.then(() => this.#begin(message)).catch(() => undefined);
        break;
      case "past":
        this.#work = this.#work.then(() => this.#takePast(message));
        break;
      case "readings":
        this.#work = this.#work.then(() => this.#takeReadings(message));
        break;
      case "presence":
        this.#work = this.#work.then(() => this.#pass(message.now_s));
        break;
      case "mark":
        this.#work = this.#work.then(() => this.#mark((marks) => [...marks, wordless(message.mark)]));
        break;
      case "unmarked":
        this.#work = this.#work.then(() => this.#mark((marks) => marks.filter(({ id }) => id !== message.id)));
        break;
    }
  }

  /** Writes what came since the last time. */
  flush(): Promise<void> {
    this.#work = this.#work.then(() => this.#write()).catch(() => undefined);
    return this.#work;
  }

  /** The session kept; null when there is none. */
  async load(): Promise<KeptSession | null> {
    try {
      const transaction = this.#database.transaction(["head", "points"]);
      const head = (await done(transaction.objectStore("head").get("session"))) as Head | undefined;
      if (!head) return null;
      const points = inOrder(((await done(transaction.objectStore("points").getAll())) as PastPoint[][]).flat());
      const { hello, marks, latest, nowS, atMs } = head;
      const past = { type: "past", points, left_out: 0, latest } as const;
      return { hello: { ...hello, marks }, past, nowS, at: new Date(atMs) };
    } catch {
      return null;
    }
  }

  async forget(): Promise<void> {
    await this.#work;
    [this.#head, this.#pending] = [null, []];
    this.#latest.clear();
    const transaction = this.#database.transaction(["head", "points"], "readwrite");
    transaction.objectStore("head").clear();
    transaction.objectStore("points").clear();
    await ended(transaction);
  }

  async #begin(hello: Hello): Promise<void> {
    const transaction = this.#database.transaction(["head", "points"], "readwrite");
    const heads = transaction.objectStore("head");
    const kept = (await done(heads.get("session"))) as Head | undefined;
    const same = kept?.hello.session === hello.session;
    const fresh = { latest: [], nowS: 0, lastS: -1, points: 0 };
    const bare = { ...hello, words: [], marks: [] };
    this.#head = { ...(same ? kept : fresh), hello: bare, marks: hello.marks.map(wordless), atMs: Date.now() };
    if (!same) {
      this.#pending = [];
      this.#latest.clear();
      transaction.objectStore("points").clear();
    }
    heads.put(this.#head, "session");
    await ended(transaction);
  }

  #takePast({ points, latest }: PastMessage): void {
    const lastS = this.#pending.at(-1)?.time_s ?? this.#head?.lastS ?? -1;
    for (const point of points) if (point.time_s > lastS) this.#pending.push(point);
    for (const timed of latest) this.#latest.set(timed.reading.epc, timed);
    const times = [points.at(-1)?.time_s ?? 0, ...latest.map(({ time_s }) => time_s)];
    this.#pass(Math.max(...times));
  }

  /** It is now `nowS` in the session; what is kept is as old as since then. */
  #pass(nowS: number): void {
    if (!this.#head || nowS < this.#head.nowS) return;
    this.#head.nowS = nowS;
    this.#head.atMs = Date.now();
  }

  #takeReadings({ now_s, earlier, readings }: ReadingsMessage): void {
    if (!this.#head) return;
    this.#pass(now_s);
    this.#pending.push(...earlier);
    for (const timed of readings) {
      const { reading, time_s } = timed;
      this.#latest.set(reading.epc, timed);
      if (reading.quality.includes("repeated") || reading.quality.includes("sequence_back")) continue;
      this.#pending.push({
        epc: reading.epc,
        sequence: reading.sequence,
        time_s: time_s - reading.age_s,
        gauge_mmhg: isInvalid(reading.quality) ? null : reading.gauge_mmhg,
        expanded_uncertainty_mmhg: reading.expanded_uncertainty_mmhg,
      });
    }
  }

  #mark(change: (marks: readonly Mark[]) => readonly Mark[]): void {
    if (this.#head) this.#head.marks = change(this.#head.marks);
  }

  async #write(): Promise<void> {
    const head = this.#head;
    if (!head) return;
    const pending = this.#pending;
    this.#pending = [];
    const transaction = this.#database.transaction(["head", "points"], "readwrite");
    const points = transaction.objectStore("points");
    if (pending.length > 0) {
      points.add(pending);
      head.lastS = Math.max(head.lastS, pending.at(-1)!.time_s);
      head.points += pending.length;
    }
    if (head.points > POINT_LIMIT) {
      const cursor = await done(points.openCursor());
      if (cursor) {
        head.points -= (cursor.value as PastPoint[]).length;
        cursor.delete();
      }
    }
    head.latest = [...this.#latest.values()];
    transaction.objectStore("head").put(head, "session");
    await ended(transaction);
  }
}

/** By time, each point once: two pages of one browser keep the same session. */
function inOrder(points: readonly PastPoint[]): PastPoint[] {
  const once = new Map(points.map((point) => [`${point.epc} ${point.sequence} ${point.time_s}`, point]));
  return [...once.values()].sort((a, b) => a.time_s - b.time_s);
}

/** The words of a note are not kept: a name might be among them. */
function wordless(mark: Mark): Mark {
  return { ...mark, text: "" };
}

function done<Result>(request: IDBRequest<Result>): Promise<Result> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function ended(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onerror = () => reject(transaction.error);
    transaction.onabort = () => reject(transaction.error);
  });
}
