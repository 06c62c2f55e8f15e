/** Which blocks a live session fetches by itself: the calibration of each tag, and a burst that was completed. */
import { EventEmitter } from "node:events";
import { describe, expect, it } from "vitest";
import { Live } from "../../../host/cli/live.ts";
import type { Reader, ReadRequest } from "../../../host/reader/reader.ts";
import { ReadingStream } from "../../../host/readings/reading-stream.ts";
import { layout } from "../../../protocol/index.ts";
import { burst, calibration, counters, EPC, frame, service, wordsOf } from "../readings/tag-words.ts";

/** Status bit 7, by the memory map: a burst was completed since the last frame. */
const BURST_READY = 128;

function session() {
  const asked: ReadRequest[] = [];
  const kit = { answers: true, block: calibration() };
  const reader = Object.assign(new EventEmitter(), {
    read: async (request: ReadRequest) => {
      asked.push(request);
      const words = request.word === 40 ? wordsOf(kit.block, kit.block) : wordsOf(burst({ samples: [1, 2] }));
      if (kit.answers) return { result: "done", kitTimeUs: 1, words };
      return { result: "tag_lost", kitTimeUs: 1, words: [] };
    },
  }) as unknown as Reader & EventEmitter;
  const readings = new ReadingStream(layout, { started: null, barometerUncertaintyPa: null }, { kind: "none" });
  const kinds: string[] = [];
  new Live({ reader, readings, capture: null, onOutcome: ({ kind }) => kinds.push(kind) });
  /** A report at a kit time; answers to what it made the session ask are in when this resolves. */
  const see = async (atS: number, parts: Parameters<typeof service>[0] = {}) => {
    reader.emit(
      "report",
      service({ a: frame({ sequence: 100 + Math.round(atS * 10) }), ...parts }, { kitTimeUs: atS * 1e6 }),
    );
    await new Promise(setImmediate);
  };
  return { asked, kit, kinds, see, words: () => asked.map(({ word, count }) => [word, count]) };
}

describe("the calibration block", () => {
  it("is read once, when a tag is first seen: words 40 to 71", async () => {
    const { asked, see, words } = session();
    for (const atS of [1, 2, 3]) await see(atS);
    expect(words()).toEqual([[40, 32]]);
    expect(asked[0]).toMatchObject({ epc: EPC, bank: "user" });
  });

  it("is asked for again after half a second when the tag was lost, and no sooner", async () => {
    const { kit, see, words } = session();
    kit.answers = false;
    await see(1);
    await see(1.4);
    expect(words()).toHaveLength(1);
    kit.answers = true;
    await see(1.6);
    expect(words()).toHaveLength(2);
    await see(5);
    expect(words()).toHaveLength(2);
  });

  it("is read again when a reuse cycle was counted", async () => {
    const { see, words } = session();
    await see(1, { counters: counters({ reuse: 4, frames: 100 }) });
    await see(2, { counters: counters({ reuse: 4, frames: 101 }) });
    expect(words()).toHaveLength(1);
    await see(3, { counters: counters({ reuse: 5, frames: 102 }) });
    expect(words()).toHaveLength(2);
  });
});

describe("a burst", () => {
  it("is read when a new frame says that there is one: words 72 to 103", async () => {
    const { kinds, see, words } = session();
    await see(1);
    await see(2, { a: frame({ sequence: 130, status: BURST_READY }) });
    // The same frame seen again is not another burst.
    await see(2.1, { a: frame({ sequence: 130, status: BURST_READY }) });
    expect(words()).toEqual([
      [40, 32],
      [72, 32],
    ]);
    expect(kinds.filter((kind) => kind === "waveform")).toHaveLength(1);
  });
});
