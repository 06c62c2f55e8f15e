import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { Feed, pair } from "../../../host/page/feed/feed.ts";
import { Preferences } from "../../../host/page/store/preferences.ts";
import { Store } from "../../../host/page/store/store.ts";
import type { PairingState } from "../../../host/view/messages.ts";
import { hello, presence } from "./support/reading.ts";

/** A socket whose other end is the test. */
class Wire extends EventTarget {
  static readonly OPEN = 1;
  static all: Wire[] = [];
  readyState = 1;
  readonly sent: string[] = [];
  readonly url: string;

  constructor(url: URL) {
    super();
    this.url = String(url);
    Wire.all.push(this);
  }

  static get last(): Wire {
    return Wire.all.at(-1)!;
  }

  send(text: string): void {
    this.sent.push(text);
  }

  close(): void {
    if (this.readyState === 3) return;
    this.readyState = 3;
    this.dispatchEvent(new Event("close"));
  }

  says(message: unknown): void {
    const event = Object.assign(new Event("message"), {
      data: typeof message === "string" ? message : JSON.stringify(message),
    });
    this.dispatchEvent(event);
  }
}

const greeting = hello();

let pairing: PairingState = { needed: false, paired: true };
let answer: () => Promise<Response> = () => Promise.reject(new Error("no server"));

function begin() {
  const store = new Store(new Preferences(null), () => performance.now());
  const absent = vi.fn();
  const heard = vi.fn();
  const feed = new Feed(store, { onMessage: heard, onAbsent: absent });
  feed.open();
  return { store, absent, heard, feed };
}

beforeEach(() => {
  vi.useFakeTimers();
  Wire.all = [];
  pairing = { needed: false, paired: true };
  vi.stubGlobal("WebSocket", Wire);
  vi.stubGlobal("location", { href: "http://127.0.0.1:4900/#now" });
  vi.stubGlobal("fetch", (path: string) => (path === "./pairing" ? Promise.resolve(Response.json(pairing)) : answer()));
});

afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe("feed", () => {
  it("opens one socket beside the page and takes what comes", () => {
    const { store, heard } = begin();
    expect([Wire.all.length, Wire.last.url]).toEqual([1, "ws://127.0.0.1:4900/feed"]);
    expect(store.feed).toBe("opening");
    Wire.last.says(greeting);
    expect([store.feed, store.hello?.session]).toEqual(["live", "one"]);
    expect(heard).toHaveBeenCalledTimes(1);
  });

  it("speaks over tls where the page came over it", () => {
    vi.stubGlobal("location", { href: "https://bench.invalid/#now" });
    begin();
    expect(Wire.last.url).toBe("wss://bench.invalid/feed");
  });

  it.each(["", "{", "null", "7", '{"type":"melted"}', '{"type":"presence","now_s":"soon"}'])(
    "takes nothing from %j",
    (text) => {
      const { store, heard } = begin();
      Wire.last.says(text);
      expect([store.feed, heard.mock.calls.length]).toEqual(["opening", 0]);
    },
  );

  it("hands messages to the server while it is there, and says so", () => {
    const { store } = begin();
    Wire.last.says(greeting);
    expect(store.send({ type: "unmark", id: 3 })).toBe(true);
    expect(Wire.last.sent).toEqual(['{"type":"unmark","id":3}']);
    Wire.last.close();
    expect(store.send({ type: "unmark", id: 3 })).toBe(false);
  });

  it("tries again when the server is lost, first soon and then less often, and is live again", async () => {
    const { store, absent } = begin();
    Wire.last.says(greeting);
    const waits = [500, 1000, 2000, 4000, 8000, 8000];
    for (const [i, waitMs] of waits.entries()) {
      Wire.last.close();
      expect(store.feed).toBe("lost");
      await vi.advanceTimersByTimeAsync(waitMs - 1);
      expect(Wire.all).toHaveLength(i + 1);
      await vi.advanceTimersByTimeAsync(1);
      expect(Wire.all).toHaveLength(i + 2);
    }
    Wire.last.says(greeting);
    expect(store.feed).toBe("live");
    expect(absent).not.toHaveBeenCalled();
    Wire.last.close();
    await vi.advanceTimersByTimeAsync(500);
    expect(Wire.all).toHaveLength(waits.length + 2);
  });

  it("takes a server that says nothing for lost", async () => {
    const { store } = begin();
    Wire.last.says(greeting);
    for (let s = 0; s < 10; s++) {
      await vi.advanceTimersByTimeAsync(1000);
      Wire.last.says(presence(s, { seen: s, failed: 0, missed: 0 }));
    }
    expect(store.feed).toBe("live");
    await vi.advanceTimersByTimeAsync(5000);
    expect(store.feed).toBe("lost");
    expect(Wire.all[0]!.readyState).toBe(3);
  });

  it("says that there is no server when there never was one", async () => {
    const { store, absent } = begin();
    Wire.last.close();
    expect(absent).toHaveBeenCalledTimes(1);
    expect(store.link).toBe("opening");
    await vi.advanceTimersByTimeAsync(500);
    expect(Wire.all).toHaveLength(2);
  });

  it("does not listen to a server of another version, and does not try it again", async () => {
    const { store, heard } = begin();
    Wire.last.says({ ...greeting, contract: 99 });
    await vi.advanceTimersByTimeAsync(60_000);
    expect([store.feed, store.hello, heard.mock.calls.length, Wire.all.length]).toEqual(["other", null, 0, 1]);
  });

  it("waits for a code where one is needed, and opens when it was given", async () => {
    pairing = { needed: true, paired: false };
    const { store, feed } = begin();
    Wire.last.close();
    await vi.advanceTimersByTimeAsync(60_000);
    expect([store.feed, Wire.all.length]).toEqual(["unpaired", 1]);
    feed.open();
    Wire.last.says(greeting);
    expect(store.feed).toBe("live");
  });
});

describe("pairing", () => {
  it.each([
    [204, {}, { result: "paired" }],
    [403, {}, { result: "wrong" }],
    [410, {}, { result: "over" }],
    [429, { "retry-after": "7" }, { result: "wait", seconds: 7 }],
    [429, {}, { result: "wait", seconds: 1 }],
  ])("takes status %s with %j for %j", async (status, headers, result) => {
    answer = () => Promise.resolve(new Response(null, { status, headers }));
    expect(await pair("AB12-CD34")).toEqual(result);
  });

  it("says when there is no server", async () => {
    answer = () => Promise.reject(new TypeError("failed"));
    expect(await pair("AB12-CD34")).toEqual({ result: "unreachable" });
  });
});
