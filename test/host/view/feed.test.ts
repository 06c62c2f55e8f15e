/** The feed moved by hand: what pages hear of reports and outcomes, in which order, and what a later page is told. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Outcome } from "../../../host/readings/reading.ts";
import { readingJson } from "../../../host/readings/reading-json.ts";
import { ReadingStream } from "../../../host/readings/reading-stream.ts";
import { BenchFeed, SUPPLY_LOW_V } from "../../../host/view/bench-feed.ts";
import { Guide } from "../../../host/view/guide.ts";
import { Marks } from "../../../host/view/marks.ts";
import { MARKS_KEPT, type ServerMessage } from "../../../host/view/messages.ts";
import { Past } from "../../../host/view/past.ts";
import { SendQueue, WAITING } from "../../../host/view/send-queue.ts";
import { parseServerMessage } from "../../../host/view/server-shapes.ts";
import { SessionClock } from "../../../host/view/session-clock.ts";
import { layout } from "../../../protocol/index.ts";
import { facts } from "../../support/view.ts";
import { burst, calibrations, EPC, frame, report, service, wordsOf } from "../readings/tag-words.ts";

/** A feed, the wall's clock and everything it said; the reader's clock begins at 10 s. */
function bench() {
  const wall = { ms: 5000 };
  const feed = new BenchFeed(facts, new Guide("plyframe 0.0.0"), () => wall.ms);
  const said: ServerMessage[] = [];
  feed.to((message) => said.push(message));
  const stream = new ReadingStream(layout, { started: null, barometerUncertaintyPa: 12 }, { kind: "kit_barometer" });
  const outcomes: Outcome[] = [];
  const push = (what: Parameters<ReadingStream["push"]>[0]) => {
    feed.report(what);
    for (const outcome of stream.push(what)) {
      outcomes.push(outcome);
      feed.outcome(outcome);
    }
  };
  const see = (sequence: number, atS: number, epc = EPC) =>
    push(service({ a: frame({ sequence }), b: frame({ sequence: sequence - 1 }) }, { kitTimeUs: atS * 1e6, epc }));
  const of = <Type extends ServerMessage["type"]>(type: Type) =>
    said.filter((message): message is Extract<ServerMessage, { type: Type }> => message.type === type);
  feed.began();
  push({ kind: "ambient", kitTimeUs: 10e6, pressureRaw: 12_900_000, temperatureC: null });
  return { feed, wall, said, outcomes, push, see, of };
}

describe("readings", () => {
  it("are those that read --json prints, to the last digit, with their session time", () => {
    const { feed, outcomes, push, see, of } = bench();
    push(calibrations(undefined, undefined, { kitTimeUs: 10.1e6 }));
    see(100, 10.5);
    feed.tick();
    const [{ readings }] = of("readings") as [ReturnType<typeof of<"readings">>[0]];
    const printed = outcomes.filter(({ kind }) => kind === "reading").map((outcome) => readingJson(outcome as never));
    expect(readings.map(({ reading }) => JSON.stringify(reading))).toEqual(printed.map((line) => JSON.stringify(line)));
    expect(readings[0]!.time_s).toBeCloseTo(0.5, 9);
  });

  it("wait for the tick, and there is at most one of a tag in it", () => {
    const { feed, see, of } = bench();
    see(100, 10.1);
    see(100, 10.2, "30340123");
    expect(of("readings")).toEqual([]);
    feed.tick();
    feed.tick();
    expect(of("readings")).toHaveLength(1);
    expect(of("readings")[0]!.readings.map(({ reading }) => reading.epc)).toEqual([EPC, "30340123"]);
  });

  it("of a frame seen first are not hidden by its repeats, and leave a point when the next frame comes before they went", () => {
    const { feed, see, of } = bench();
    see(100, 10.1);
    see(100, 10.12);
    feed.tick();
    expect(of("readings")[0]!.readings[0]!.reading.quality).not.toContain("repeated");
    see(100, 10.14);
    see(101, 10.16);
    see(102, 10.18);
    see(102, 10.19);
    feed.tick();
    const [first, second] = of("readings");
    expect(first!.earlier).toEqual([]);
    expect(second!.readings.map(({ reading }) => reading.sequence)).toEqual([102]);
    expect(second!.earlier).toMatchObject([{ epc: EPC, sequence: 101, time_s: expect.closeTo(0.16, 9) }]);
  });

  it("that could not be made say why", () => {
    const { feed, push, of } = bench();
    push(report(0, [], { kitTimeUs: 10.2e6, result: "tag_lost" }));
    feed.tick();
    const { unread } = of("readings")[0]!;
    expect(unread).toMatchObject([{ epc: EPC, reason: "tag-lost" }]);
    expect(unread[0]!.sentence).toContain("tag_lost");
    expect(unread[0]!.time_s).toBeCloseTo(0.2, 9);
  });

  it("of a burst come whole", () => {
    const { feed, push, of, outcomes } = bench();
    push(report(72, wordsOf(burst({ samples: [1, 2, 3] })), { kitTimeUs: 10.2e6 }));
    feed.tick();
    const waveform = outcomes.find(({ kind }) => kind === "waveform");
    expect(of("readings")[0]!.waveforms.map(({ waveform }) => waveform)).toEqual([readingJson(waveform as never)]);
  });
});

describe("words", () => {
  it("are the last Read at each place, and only news is told", () => {
    const { feed, push, see, of } = bench();
    see(100, 10.1);
    push(calibrations(undefined, undefined, { kitTimeUs: 10.2e6 }));
    see(101, 10.3);
    feed.tick();
    const [{ words }] = of("words") as [ReturnType<typeof of<"words">>[0]];
    expect(words.map(({ epc, bank, word, hex }) => [epc, bank, word, hex.length / 4])).toEqual([
      [EPC, "user", 0, 32],
      [EPC, "user", 40, 32],
    ]);
    // Word 8 opens the first frame: kind 2, layout 1, then the status; the sequence is the next (MEMORY-MAP.md).
    expect(words[0]!.hex.slice(32, 40)).toBe("21000065");
    for (let i = 0; i < 8; i++) feed.tick();
    expect(of("words")).toHaveLength(1);
    // Words of a Read that failed are those of the answer that broke off, if there are any.
    push(report(0, [1, 2], { kitTimeUs: 10.4e6, result: "tag_lost" }));
    for (let i = 0; i < 8; i++) feed.tick();
    expect(of("words")).toHaveLength(1);
  });
});

describe("time", () => {
  it("is the reader's clock since the first report, and goes on between reports", () => {
    const clock = new SessionClock(4);
    expect(clock.nowS(0)).toBe(0);
    expect(clock.see(1_700_000_000e6, 1000)).toBe(0);
    expect(clock.see(1_700_000_002e6, 1500)).toBe(2);
    expect(clock.nowS(1750)).toBe(3);
    // A report that comes late is where its own clock says, and takes nothing back.
    expect(clock.see(1_700_000_001e6, 1750)).toBe(1);
    expect(clock.nowS(1750)).toBe(3);
  });

  it("goes on when the reader's clock begins anew, by the time that passed on the wall", () => {
    const clock = new SessionClock(1);
    clock.see(500e6, 0);
    clock.see(510e6, 10_000);
    clock.anew();
    expect(clock.see(1e6, 13_000)).toBe(13);
    expect(clock.see(2e6, 14_000)).toBe(14);
  });
});

describe("the state", () => {
  it("follows the reader: connecting, live, reconnecting with its tries, live again, ended", () => {
    const { feed, said, see, of, wall } = bench();
    see(100, 11);
    said.length = 0;
    feed.lost("lost /dev/ttyUSB0: the device vanished");
    feed.trying(2, 0.5);
    wall.ms += 3000;
    feed.began();
    see(101, 0.25);
    feed.tick();
    feed.ended(null);
    expect(
      of("state").map(({ state, sentence, attempt, next_try_s }) => [state, sentence, attempt, next_try_s]),
    ).toEqual([
      ["reconnecting", "lost /dev/ttyUSB0: the device vanished", null, null],
      ["reconnecting", "lost /dev/ttyUSB0: the device vanished", 2, 0.5],
      ["live", null, null, null],
      ["ended", null, null, null],
    ]);
    // 1 s of the first clock, 3 s on the wall, and the second clock's first report then.
    expect(of("readings")[0]!.readings[0]!.time_s).toBeCloseTo(4, 9);
  });
});

describe("marks", () => {
  it("are told to every page with their time, and taken back", () => {
    const { feed, see, of, wall } = bench();
    expect(feed.request(1, { type: "mark", kind: "stood", text: "" })).toMatchObject({ code: "nothing_read_yet" });
    see(100, 11);
    wall.ms += 500;
    expect(feed.request(1, { type: "mark", kind: "stood", text: "" })).toBeNull();
    expect(feed.request(2, { type: "mark", kind: "note", text: "loose end" })).toBeNull();
    const marks = of("mark").map(({ mark }) => mark);
    expect(marks.map(({ id, kind, text, time_s }) => [id, kind, text, time_s])).toEqual([
      [1, "stood", "", 1.5],
      [2, "note", "loose end", 1.5],
    ]);
    feed.request(1, { type: "unmark", id: 1 });
    feed.request(1, { type: "unmark", id: 1 });
    expect(of("unmarked")).toEqual([{ type: "unmarked", id: 1 }]);
    expect(feed.greeting(3)[0]).toMatchObject({ type: "hello", marks: [marks[1]] });
  });

  it("are kept up to a number, the newest", () => {
    const marks = new Marks();
    for (let i = 0; i < MARKS_KEPT + 2; i++) marks.add("stood", "", i, new Date(0));
    expect([marks.list.length, marks.list[0]!.id, marks.list.at(-1)!.id]).toEqual([MARKS_KEPT, 3, MARKS_KEPT + 2]);
  });
});

describe("a page that comes later", () => {
  it("is told what was read: each frame once, the latest of each tag, the words", () => {
    const { feed, see } = bench();
    for (const [sequence, atS] of [
      [100, 10.5],
      [100, 10.6],
      [101, 11],
    ] as const) {
      see(sequence, atS);
    }
    const [hello, past, presence] = feed.greeting(1);
    expect(hello).toMatchObject({ supply_low_v: 1.8, words: [{ epc: EPC, word: 0 }], state: { state: "live" } });
    expect(past).toMatchObject({
      points: [
        { epc: EPC, sequence: 100, time_s: expect.closeTo(0.5, 9) },
        { epc: EPC, sequence: 101, time_s: expect.closeTo(1, 9) },
      ],
      left_out: 0,
      latest: [{ reading: { sequence: 101 } }],
    });
    expect(presence).toMatchObject({ type: "presence", rounds_per_second: 10 });
  });

  it("is not told again what waited when it came, and the others are told it before", () => {
    const { feed, see, of } = bench();
    see(100, 10.5);
    expect(feed.greeting(2)[1]).toMatchObject({ points: [{ sequence: 100 }] });
    expect(of("readings").map(({ readings }) => readings.map(({ reading }) => reading.sequence))).toEqual([[100]]);
    feed.tick();
    expect(of("readings")).toHaveLength(1);
  });

  it("finds a gap where a reading was not valid, and no frame that came behind a newer one", () => {
    const { feed, push, see } = bench();
    see(100, 10.5);
    // Status bit 2, by the memory map: the sensor did not answer.
    push(service({ a: frame({ sequence: 101, status: 4 }) }, { kitTimeUs: 11e6 }));
    see(103, 11.5);
    push(service({ a: frame({ sequence: 102 }), b: frame({ sequence: 101, status: 4 }) }, { kitTimeUs: 12e6 }));
    const past = feed.greeting(1)[1];
    expect(past).toMatchObject({
      points: [
        { sequence: 100, gauge_mmhg: expect.any(Number) },
        { sequence: 101, gauge_mmhg: null },
        { sequence: 103, gauge_mmhg: expect.any(Number) },
      ],
    });
  });

  it("is told the newest only, in order, and how many are left out", () => {
    const past = new Past(3);
    const { outcomes, see } = bench();
    for (let i = 0; i < 8; i++) see(100 + i, 10 + i);
    const readings = outcomes.flatMap((outcome) => (outcome.kind === "reading" ? [readingJson(outcome)] : []));
    readings.forEach((reading, i) => {
      past.add({ time_s: i, reading: reading as never });
    });
    const { points, left_out } = past.message();
    expect(points.map(({ sequence }) => sequence)).toEqual([105, 106, 107]);
    expect(left_out).toBe(5);
  });

  it("is told the same supply as the firmware has it", () => {
    const header = readFileSync("protocol/firmware/plyframe.h", "utf8");
    expect(SUPPLY_LOW_V * 1000).toBe(Number(/#define PLY_SUPPLY_LOW_MV (\d+)u/.exec(header)![1]));
  });
});

describe("a page", () => {
  it("takes every message that the feed says for one", () => {
    const { feed, said, see, push } = bench();
    feed.to((message) => said.push(JSON.parse(JSON.stringify(message))));
    see(100, 11);
    push(calibrations(undefined, undefined, { kitTimeUs: 11.1e6 }));
    push(report(72, wordsOf(burst({ samples: [1, 2, 3] })), { kitTimeUs: 11.2e6 }));
    push(report(0, [], { kitTimeUs: 11.3e6, result: "tag_lost" }));
    see(101, 11.4);
    for (let i = 0; i < 10; i++) feed.tick();
    feed.request(1, { type: "mark", kind: "stood", text: "" });
    feed.request(1, { type: "unmark", id: 1 });
    feed.lost("lost");
    const start = { type: "calibrate", action: "start", epc: EPC, loads_mmhg: [0], cycles: 1 } as const;
    const refused = feed.request(1, { ...start, epc: "3034", reference_uncertainty_pa: null });
    feed.request(1, { ...start, reference_uncertainty_pa: null });
    const all = [...said, ...feed.greeting(1), refused!];
    const types = "calibration error hello mark past presence readings state unmarked words";
    expect([...new Set(all.map(({ type }) => type))].sort()).toEqual(types.split(" "));
    for (const message of all) expect(parseServerMessage(JSON.stringify(message))).toEqual(message);
  });

  it.each([
    "",
    "null",
    "7",
    "[]",
    "{}",
    '{"type":"toString"}',
    '{"type":"readings"}',
    '{"type":"readings","now_s":"1","earlier":[],"readings":[],"waveforms":[],"unread":[]}',
    '{"type":"readings","now_s":1,"earlier":[],"readings":[{}],"waveforms":[],"unread":[]}',
    '{"type":"past","points":7,"left_out":0,"latest":[]}',
    '{"type":"presence","now_s":1,"rounds_per_second":null,"tags":[null],"dropped":0}',
    '{"type":"mark","mark":{"id":1}}',
    '{"type":"unmarked","id":1e999}',
  ])("takes %s for none", (text) => expect(parseServerMessage(text)).toBeNull());
});

describe("a slow page", () => {
  /** A line that takes nothing until it is told to. */
  function line() {
    const sent: string[] = [];
    const waiting: (() => void)[] = [];
    const gaveUp = { times: 0 };
    const queue = new SendQueue(
      (text, done) => {
        sent.push(text);
        waiting.push(done);
      },
      () => gaveUp.times++,
    );
    const take = () => waiting.shift()?.();
    return { queue, sent, take, gaveUp };
  }

  it("loses the oldest of what passes, never what must arrive, and the loss is counted", () => {
    const { queue, sent, take } = line();
    for (const text of ["hello", "past", "state", "state"]) queue.push(text, false);
    queue.push("first mark", false);
    for (let i = 0; i < 200; i++) queue.push(`reading ${i}`, true);
    queue.push("mark", false);
    expect(sent).toEqual(["hello", "past", "state", "state"]);
    while (sent.at(-1) !== "mark") take();
    expect(sent[4]).toBe("first mark");
    expect(sent.at(-2)).toBe("reading 199");
    expect(queue.dropped).toBe(206 - sent.length);
    expect(sent.length).toBeLessThanOrEqual(WAITING + 4);
  });

  it("is given up when even what must arrive piles up", () => {
    const { queue, gaveUp } = line();
    for (let i = 0; i < WAITING + 4; i++) queue.push("mark", false);
    expect(gaveUp.times).toBe(0);
    queue.push("mark", false);
    expect(gaveUp.times).toBe(1);
  });
});
