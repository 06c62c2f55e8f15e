/** A block on its way into a tag: the order, every cut, and what can be read after it. */
import { describe, expect, it } from "vitest";
import { blockRecord } from "../../../host/calibrate/block.ts";
import {
  afterReuse,
  blockWords,
  copyInForce,
  readTag,
  reuseInForce,
  TagError,
  type TagLink,
  writeBlock,
} from "../../../host/calibrate/tag-block.ts";
import { decode, isFault, rawOf } from "../../../protocol/index.ts";
import { calibration, torn, wordsOf } from "../readings/tag-words.ts";
import { COPY_1, COPY_2, MemoryReader } from "./memory-reader.ts";

const before = wordsOf(calibration());
const after = wordsOf(calibration({ offset: -15_000, gain: 1_127_000, date: 2239, uncertainty: 38 }));
const link = (reader: MemoryReader): TagLink => ({ reader, epc: "30340123", password: 0 });
const write = (reader: MemoryReader) => writeBlock(link(reader), after, () => undefined);
const same = (a: readonly number[], b: readonly number[]) => a.every((word, i) => word === b[i]);
const bytes = (words: readonly number[]) => words.flatMap((word) => [word >> 8, word & 0xff]);
const whole = (words: readonly number[]) => !isFault(decode(blockRecord, bytes(words)));

describe("an undisturbed update", () => {
  it("brings both copies, word 0 first to zero and last of all", async () => {
    const reader = new MemoryReader();
    await write(reader);
    expect([same(reader.copy(COPY_1!), after), same(reader.copy(COPY_2!), after)]).toEqual([true, true]);
    const first = reader.order.filter((step) => step.startsWith("write")).map((step) => Number(step.slice(6)));
    const copy = (word: number) => [word, ...Array.from({ length: 14 }, (_, i) => word + 2 + i), word + 1, word];
    // The other copy's word 0 is made firm before the first is given up.
    expect(first).toEqual([COPY_2, ...copy(COPY_1!), ...copy(COPY_2!)]);
  });
});

describe("an update cut at any access", () => {
  const total = (() => 2 + 1 + 2 * 17 + 2)();

  it("leaves a whole copy, the old or the new, and is finished by the same again", async () => {
    let cuts = 0;
    for (const done of [false, true]) {
      for (let at = 0; at < total; at++) {
        const reader = new MemoryReader();
        reader.fail = (access) => (access >= at ? { result: "tag_memory_locked", done } : null);
        await expect(write(reader)).rejects.toBeInstanceOf(TagError);
        const copies = [reader.copy(COPY_1!), reader.copy(COPY_2!)];
        expect(copies.some((copy) => whole(copy) && (same(copy, before) || same(copy, after)))).toBe(true);
        reader.fail = () => null;
        await write(reader);
        expect(same(reader.copy(COPY_1!), after) && same(reader.copy(COPY_2!), after)).toBe(true);
        cuts++;
      }
    }
    expect(cuts).toBe(2 * total);
  });

  it("counts as many accesses as the cuts were made at", async () => {
    const reader = new MemoryReader();
    await write(reader);
    expect(reader.accesses).toBe(total);
  });
});

describe("a weakly powered tag", () => {
  it("that is lost at every second access is written all the same", async () => {
    const reader = new MemoryReader();
    reader.fail = (access) => (access % 2 === 0 ? { result: "tag_lost", done: access % 4 === 0 } : null);
    await write(reader);
    expect(same(reader.copy(COPY_1!), after) && same(reader.copy(COPY_2!), after)).toBe(true);
  });

  it("that never answers is given up with its place", async () => {
    const reader = new MemoryReader();
    reader.fail = () => ({ result: "tag_lost", done: false });
    await expect(readTag(link(reader))).rejects.toThrow("tag 30340123: read of USER word 0 gave tag_lost");
    expect(reader.accesses).toBe(8);
  });

  it("that is locked is not asked again, and the password is spoken of", async () => {
    const reader = new MemoryReader();
    reader.fail = (access) => (access > 0 ? { result: "tag_memory_locked", done: false } : null);
    await expect(write(reader)).rejects.toThrow(
      "write of USER word 56 gave tag_memory_locked; it takes the tag's access password",
    );
    expect(reader.accesses).toBe(2);
  });
});

describe("a copy that does not keep what was written", () => {
  it("is found when it is read back", async () => {
    const reader = new MemoryReader();
    const { memory } = reader;
    reader.fail = () => {
      memory[COPY_1! + 5] = 0x1234;
      return null;
    };
    await expect(write(reader)).rejects.toThrow("does not read back");
  });
});

describe("the copy in force", () => {
  it("is the first; the second when the first is torn; none when both are or belong to another sensor", async () => {
    const of = async (first: number[], second: number[]) =>
      copyInForce(await readTag(link(new MemoryReader(first, second))));
    const [one, two] = [calibration({ offset: 1 }), calibration({ offset: 2 })];
    expect(rawOf((await of(one, two))!, "offset")).toBe(1);
    expect(rawOf((await of(torn(one), two))!, "offset")).toBe(2);
    expect(await of(torn(one), torn(two))).toBeNull();
    expect(await of(calibration({ serial: 1 }), calibration({ serial: 1 }))).toBeNull();
  });
});

describe("a reuse cycle", () => {
  it("counts from the larger of block and counters", async () => {
    const tag = (count: number, reuse: number) =>
      readTag(link(new MemoryReader(calibration({ count }), undefined, reuse)));
    expect(reuseInForce(await tag(4, 2))).toBe(4);
    expect(reuseInForce(await tag(4, 6))).toBe(6);
  });

  const counted = async (block: number[], cycles: number, limit?: number | null) => {
    const copy = copyInForce(await readTag(link(new MemoryReader(block))))!;
    const next = afterReuse(copy, cycles, limit);
    const read = decode(blockRecord, bytes(blockWords(next.raws)));
    if (isFault(read)) throw new Error(read.code);
    return {
      ...next,
      count: rawOf(read, "reuse_count"),
      since: rawOf(read, "reuse_since"),
      limit: rawOf(read, "reuse_limit"),
    };
  };

  it("raises both counts and keeps the rest", async () => {
    const next = await counted(calibration({ count: 4, since: 1, limit: 20, offset: 77 }), 5);
    expect([next.count, next.since, next.limit, next.retire]).toEqual([5, 2, 20, false]);
    expect(next.raws.offset).toBe(77);
  });

  it("saturates since at fifteen and asks for retirement at the limit", async () => {
    expect(await counted(calibration({ count: 19, since: 15, limit: 20 }), 20)).toMatchObject({
      since: 15,
      retire: true,
    });
  });

  it("takes a new limit, or none", async () => {
    expect(await counted(calibration({ count: 4, limit: 20 }), 5, 5)).toMatchObject({ limit: 5, retire: true });
    expect(await counted(calibration({ count: 40, limit: 20 }), 41, null)).toMatchObject({ limit: 255, retire: false });
  });
});
