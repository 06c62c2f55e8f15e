import { describe, expect, it } from "vitest";
import { Preferences } from "../../../host/page/store/preferences.ts";
import { shownOf } from "../../../host/page/store/shown.ts";
import { Store } from "../../../host/page/store/store.ts";
import type { Mark, PastPoint, ReadingRecord, TimedReading } from "../../../host/view/messages.ts";
import { EPC, hello, OTHER, presence, timed } from "./support/reading.ts";

class Clock {
  ms = 0;
  readonly now = () => this.ms;
}

function makeStore() {
  const clock = new Clock();
  const store = new Store(new Preferences(null), clock.now);
  return { clock, store };
}

const readings = (now_s: number, ...list: TimedReading[]) =>
  ({ type: "readings", now_s, readings: list, earlier: [], waveforms: [], unread: [] }) as const;

const point = (time_s: number, sequence: number, gauge_mmhg: number | null = 42): PastPoint => ({
  epc: EPC,
  sequence,
  time_s,
  gauge_mmhg,
  expanded_uncertainty_mmhg: 0.5,
});

const mark = (id: number, kind: Mark["kind"] = "stood"): Mark => ({
  id,
  kind,
  time_s: id,
  at: "2026-11-25T10:00:00Z",
  text: "",
});

const traceTimes = (store: Store, epc = EPC) => {
  const { trace } = store.sites.get(epc)!;
  return Array.from({ length: trace.length }, (_, i) => trace.timeS(i));
};

describe("store", () => {
  it("knows the named sites from the first message on, in their order, and others as they come", () => {
    const { store } = makeStore();
    store.take(
      hello({
        sites: [
          { epc: OTHER, site: "C" },
          { epc: EPC, site: "B1" },
        ],
      }),
    );
    store.take(readings(1, timed(1, { epc: "e2801191" })));
    expect([...store.sites.values()].map(({ label }) => label)).toEqual(["C", "B1", "…e2801191"]);
  });

  it("draws a frame once, however often it is read", () => {
    const { store } = makeStore();
    store.take(hello());
    store.take(readings(1, timed(1)));
    store.take(readings(1.1, timed(1.1, { age_s: 0.1, quality: ["repeated"] })));
    store.take(readings(1.3, timed(1.3, { sequence: 8 })));
    expect(traceTimes(store)).toEqual([1, 1.3]);
    expect(store.sites.get(EPC)!.latest!.time_s).toBe(1.3);
  });

  it("does not draw an earlier frame that comes late", () => {
    const { store } = makeStore();
    store.take(hello());
    store.take(readings(1, timed(1, { quality: ["sequence_back"] })));
    expect(traceTimes(store)).toEqual([]);
  });

  it("draws no pressure where the gravest flags are", () => {
    const { store } = makeStore();
    store.take(hello());
    store.take(readings(1, timed(1, { quality: ["pressure_at_limit"] })));
    expect(store.sites.get(EPC)!.trace.sample(0).gaugeMmhg).toBeNull();
    expect(store.highestMmhg).toBe(0);
  });

  it("lets a value age between two messages, as fast as the session goes", () => {
    const { store, clock } = makeStore();
    store.take(hello({ speed: 10 }));
    store.take(readings(5, timed(5)));
    clock.ms = 150;
    expect(store.clock.nowS).toBeCloseTo(6.5, 9);
    expect(shownOf(store.sites.get(EPC)!.latest, store.clock.nowS)).toMatchObject({ shows: "number" });
    clock.ms = 250;
    expect(shownOf(store.sites.get(EPC)!.latest, store.clock.nowS).shows).toBe("stale");
  });

  it("takes the past before what comes after it", () => {
    const { store } = makeStore();
    store.take(hello());
    store.take({ type: "past", points: [point(1, 1), point(2, 2)], left_out: 3, latest: [timed(2)] });
    store.take(readings(3, timed(3, { sequence: 3 })));
    expect(traceTimes(store)).toEqual([1, 2, 3]);
    expect(store.leftOut).toBe(3);
    expect(store.clock.heardS).toBe(3);
  });

  it("has each sample once after it lost the server and found it again", () => {
    const { store } = makeStore();
    store.take(hello());
    store.take(readings(1, timed(1)));
    store.take(readings(2, timed(2, { sequence: 8 })));
    store.take(hello());
    store.take({ type: "past", points: [point(2, 8), point(2.5, 9)], left_out: 1, latest: [] });
    expect(traceTimes(store)).toEqual([1, 2, 2.5]);
  });

  it("forgets one session when another begins", () => {
    const { store } = makeStore();
    store.take(hello({ marks: [mark(1)] }));
    store.take(readings(9, timed(9, { gauge_mmhg: 70 })));
    store.take(hello({ session: "two" }));
    expect(traceTimes(store)).toEqual([]);
    expect([store.marks, store.highestMmhg, store.sites.get(EPC)!.latest]).toEqual([[], 0, null]);
  });

  it("follows marks as they are made and taken away", () => {
    const { store } = makeStore();
    store.take(hello({ marks: [mark(1)] }));
    store.take({ type: "mark", mark: mark(2) });
    store.take({ type: "mark", mark: mark(2) });
    store.take({ type: "unmarked", id: 1 });
    expect(store.marks.map(({ id }) => id)).toEqual([2]);
  });

  it("keeps the latest words of each place", () => {
    const { store } = makeStore();
    const words = (word: number, hex: string) => ({ time_s: 1, epc: EPC, bank: "user", word, hex }) as const;
    store.take(hello({ words: [words(0, "1111")] }));
    store.take({ type: "words", words: [words(0, "2222"), words(40, "3333")] });
    expect([...store.sites.get(EPC)!.words]).toEqual([
      ["user:0", words(0, "2222")],
      ["user:40", words(40, "3333")],
    ]);
  });

  it("says why there is no reading until one comes", () => {
    const { store } = makeStore();
    const unread = { time_s: 1, epc: EPC, reason: "layout-unknown", sentence: "Another layout." };
    store.take(hello());
    store.take({ ...readings(1), unread: [unread] });
    expect(store.sites.get(EPC)!.unread).toEqual(unread);
    store.take(readings(2, timed(2)));
    expect(store.sites.get(EPC)!.unread).toBeNull();
  });

  it("stops the right end of the plot when a recording ends, but not the ages", () => {
    const { store, clock } = makeStore();
    store.take(hello());
    store.take(readings(5, timed(5)));
    store.take({ type: "state", state: "ended", sentence: null, attempt: null, next_try_s: null });
    clock.ms = 60_000;
    expect(store.edgeS).toBe(5);
    store.setLink("open");
    expect(store.feed).toBe("ended");
    expect(shownOf(store.sites.get(EPC)!.latest, store.clock.nowS).shows).toBe("stale");
  });

  it("shows a kept session as past: everything in it is old", () => {
    const { store } = makeStore();
    const kept = timed(100, { gauge_mmhg: 50 });
    store.takeKept(
      hello(),
      { type: "past", points: [point(99, 1), point(100, 2)], left_out: 0, latest: [kept] },
      100,
      new Date(0),
      3600,
    );
    expect([store.feed, store.edgeS]).toEqual(["kept", 100]);
    const shown = shownOf(store.sites.get(EPC)!.latest, store.clock.nowS);
    expect(shown).toMatchObject({ shows: "stale", ageS: 3600, gaugeMmhg: 50 });
  });

  it("tells its listeners of each message, until they stop listening", () => {
    const { store } = makeStore();
    let heard = 0;
    const stop = store.subscribe(() => heard++);
    store.take(hello());
    store.take(presence(1, { seen: 1, failed: 0, missed: 0 }));
    stop();
    store.take(presence(2, { seen: 2, failed: 0, missed: 0 }));
    expect(heard).toBeGreaterThanOrEqual(2);
    const before = heard;
    store.take(hello());
    expect(heard).toBe(before);
  });

  it("says that nothing was sent while there is no server", () => {
    const { store } = makeStore();
    const sent: unknown[] = [];
    expect(store.send({ type: "mark", kind: "stood", text: "" })).toBe(false);
    store.sendBy((message) => sent.push(message) > 0);
    expect(store.send({ type: "mark", kind: "stood", text: "" })).toBe(true);
    expect(sent).toEqual([{ type: "mark", kind: "stood", text: "" }]);
  });

  it("stays of the same size however long it is read at twenty a second", () => {
    const { store } = makeStore();
    store.take(hello());
    const record: Partial<ReadingRecord> = {};
    for (let i = 0; i < 40_000; i++) store.take(readings(i / 20, timed(i / 20, { ...record, sequence: i % 65_536 })));
    const { trace } = store.sites.get(EPC)!;
    expect([trace.length, trace.leftOut]).toEqual([32_768, 40_000 - 32_768]);
  });
});
