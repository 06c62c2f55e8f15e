import { describe, expect, it } from "vitest";
import { HeardShare, powerOf } from "../../../host/page/store/power.ts";
import { presence, record } from "./support/reading.ts";

const counts = (nowS: number, seen: number, failed: number, missed: number | null) =>
  presence(nowS, { seen, failed, missed }).tags[0]!;

describe("power", () => {
  it.each([
    [{}, null, "fed", 3],
    [{}, 0.95, "fed", 3],
    [{}, 0.5, "patchy", 2],
    [{ quality: ["first_after_cold_start"] }, 1, "starting", 1],
    [{ quality: ["brown_out"] }, 1, "starving", 1],
    [{ quality: ["supply_low"] }, 1, "starving", 1],
    [{ supply_v: 1.7 }, 1, "starving", 1],
    [{ supply_v: null }, 1, "fed", 3],
  ] as const)("of %j with a share of %s is %s", (changes, share, word, cells) => {
    expect(powerOf(record(changes as never), 1.8, share)).toMatchObject({ word, cells });
  });

  it("has the supply above what the firmware needs", () => {
    expect(powerOf(record({ supply_v: 2.9 }), 1.8, null).marginV).toBeCloseTo(1.1, 9);
    expect(powerOf(record({ supply_v: null }), 1.8, null).marginV).toBeNull();
  });
});

describe("share of rounds that brought words", () => {
  it("is not known before a round passed", () => {
    const heard = new HeardShare();
    expect(heard.share).toBeNull();
    heard.add(1, counts(1, 4, 0, 0));
    expect(heard.share).toBeNull();
  });

  // 20 rounds passed: 14 sightings, 4 of them without words, 6 missed.
  it("counts sightings without words and missed rounds against it", () => {
    const heard = new HeardShare();
    heard.add(0, counts(0, 10, 2, 1));
    heard.add(5, counts(5, 24, 6, 7));
    expect(heard.share).toBeCloseTo(10 / 20, 9);
  });

  it("looks at the last seconds only", () => {
    const heard = new HeardShare();
    for (let s = 0; s <= 30; s++) heard.add(s, counts(s, Math.min(s, 10), 0, Math.max(0, s - 10)));
    expect(heard.share).toBe(0);
  });

  it("begins anew with a server that counts anew", () => {
    const heard = new HeardShare();
    heard.add(0, counts(0, 100, 0, 0));
    heard.add(1, counts(1, 1, 0, 0));
    heard.add(2, counts(2, 5, 0, 0));
    expect(heard.share).toBe(1);
  });

  it("is that of the sightings in a recording, whose rounds are not known", () => {
    const heard = new HeardShare();
    heard.add(0, counts(0, 0, 0, null));
    heard.add(5, counts(5, 10, 3, null));
    expect(heard.share).toBeCloseTo(0.7, 9);
  });
});
