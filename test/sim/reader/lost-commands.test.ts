/** The reader's work when commands and replies get lost: what it tries again, what it never takes for an answer. */
import { describe, expect, it } from "vitest";
import type { Bits } from "../../../sim/air/bits.ts";
import type { Command } from "../../../sim/air/command.ts";
import { decodeCommand } from "../../../sim/air/decode-command.ts";
import { encodeReply, type Reply } from "../../../sim/air/reply.ts";
import { Random } from "../../../sim/random.ts";
import { Field, type Process, type Received, type Responder } from "../../../sim/reader/field.ts";
import { Interrogator } from "../../../sim/reader/interrogator.ts";
import { type Access, type AccessResult, Singulated } from "../../../sim/reader/singulated.ts";
import { Transmitter } from "../../../sim/reader/transmitter.ts";
import { trainingLeg } from "../../../sim/scenario/training-leg.ts";
import { Chip } from "../../../sim/tag/chip.ts";
import { commissionedMemory } from "../../../sim/tag/factory.ts";
import type { TagMemory } from "../../../sim/tag/memory.ts";
import { FAST } from "../support/air-partner.ts";

/** A strong tag whose EPC ends in `last` and that hears only what it is let hear. */
function tagOf(last: number, hears: (command: Command) => boolean): { responder: Responder; memory: TagMemory } {
  const memory = commissionedMemory(trainingLeg.tags[0]!);
  memory.poke(1, 7, [last]);
  const chip = new Chip(memory, new Random(3, `tag ${last}`), (nowUs) => nowUs);
  chip.powerUp(0);
  const responder: Responder = {
    hear: (transmission) =>
      hears(decodeCommand(transmission.bits)!) ? chip.hear({ ...transmission, canWrite: true }) : null,
    rssiDbm: () => -40,
  };
  return { responder, memory };
}

function readerOf(tags: readonly Responder[]): Interrogator {
  const options = { profile: FAST, sensitivityDbm: -74, captureDb: null };
  return new Interrogator(new Field(tags, new Random(3, "receiver"), options), new Transmitter(new Random(3, "ch")));
}

/** Lives on to kit time `toUs`. */
function live(reader: Interrogator, toUs: number): void {
  while (reader.nextUs < toUs) reader.run();
}

const epcOf = (memory: TagMemory) => memory.identity().epc;
const READ: Access = { kind: "read", bank: 3, word: 0, count: 1 };

describe("an access", () => {
  it.each([
    [0, "done"],
    [3, "done"],
    [4, "tag_lost"],
  ])("of a tag that misses the first %i calls: %s", (missed, expected) => {
    let calls = 0;
    const { responder, memory } = tagOf(1, ({ kind }) => kind !== "query" || ++calls > missed);
    const reader = readerOf([responder]);
    const results: AccessResult[] = [];
    const onDone = (result: AccessResult) => void results.push(result);
    reader.order(0, { epc: epcOf(memory), password: 0, access: READ, onDone });
    live(reader, 5e6);
    expect(results.map(({ result }) => result)).toEqual([expected]);
  });

  it("is never done on another tag that answers in its stead", () => {
    // It did not hear the Select that was for another, so that it takes the call for its own.
    const wrong = tagOf(2, ({ kind }) => kind !== "select");
    const wanted = tagOf(1, () => false);
    wrong.memory.locks.apply(0b10, 0);
    const before = wrong.memory.read(3, 40, 1, true);
    const reader = readerOf([wrong.responder, wanted.responder]);
    const results: AccessResult[] = [];
    reader.order(0, {
      epc: epcOf(wanted.memory),
      password: 0,
      access: { kind: "write", bank: 3, word: 40, words: [0xbeef] },
      onDone: (result) => void results.push(result),
    });
    live(reader, 5e6);
    expect(results.map(({ result }) => result)).toEqual(["tag_lost"]);
    expect(wrong.memory.read(3, 40, 1, true)).toEqual(before);
    expect(before).not.toEqual([0xbeef]);
  });
});

describe("tags that the rounds miss", () => {
  /** When each of three tags was seen; after the first 50 ms of rounds they hear only what is said in other sessions. */
  function seen(periodUs: number): number[][] {
    const times: number[][] = [[], [], []];
    let nowUs = 0;
    const tags = [1, 2, 3].map((last) =>
      tagOf(last, (command) => nowUs < 150_000 || command.kind !== "query" || command.session !== 0),
    );
    const reader = readerOf(tags.map(({ responder }) => responder));
    reader.start(0, {
      periodUs,
      accesses: () => [],
      onSighting: ({ timeUs, identity }) => void times[identity.epc[5]! - 1]!.push(timeUs),
    });
    while (reader.nextUs < 1e6) {
      nowUs = reader.nextUs;
      reader.run();
    }
    return times.map((list) => list.filter((timeUs) => timeUs > 150_000));
  }

  it("are sought one by one in every period that has the time", () => {
    // Rounds begin at 100 ms; those from 200 to 900 ms miss every tag.
    for (const list of seen(100_000)) expect(list).toHaveLength(8);
  });

  it("take turns when there is time for one only, the one not read for longest first", () => {
    const order = seen(10_000)
      .flatMap((list, tag) => list.map((timeUs) => ({ timeUs, tag })))
      .sort((a, b) => a.timeUs - b.timeUs)
      .map(({ tag }) => tag);
    expect(order.length).toBeGreaterThan(60);
    // Every three in a row are three tags.
    for (let i = 2; i < order.length; i++) expect(new Set(order.slice(i - 2, i + 1)).size).toBe(3);
  });
});

describe("a singulated tag", () => {
  const HANDLE = 0x5a5a;

  /** What comes of an access when the tag gives these replies to the access commands, null for none, and RN16s at will. */
  function outcome(access: Access, replies: readonly (Reply | null)[]): { result: AccessResult; said: number } {
    const left = [...replies];
    let said = 0;
    function* say(command: Command): Process<Received> {
      yield 0;
      let reply: Reply | null = { kind: "handle", handle: HANDLE };
      if (command.kind !== "req_rn") {
        said++;
        reply = left.shift() ?? null;
      }
      const bits: Bits = reply ? encodeReply(reply) : [];
      return { kind: reply ? "reply" : "silence", bits, rssiDbm: -40, nextUs: 0 };
    }
    const tag = new Singulated(say, 1);
    const opened = tag.open();
    while (!opened.next().done);
    const process = tag.access(access);
    for (;;) {
      const step = process.next();
      if (step.done) return { result: step.value, said };
    }
  }

  const words = (handle = HANDLE): Reply => ({ kind: "words", words: [0x1234], handle });

  it("is asked three times in all when its reply is missing", () => {
    expect(outcome(READ, [null, null, words()])).toEqual({ result: { result: "done", words: [0x1234] }, said: 3 });
    // It still gives RN16s, so that it is there and will not.
    expect(outcome(READ, [null, null, null, words()])).toEqual({ result: { result: "tag_error", words: [] }, said: 3 });
  });

  it("is never answered for by a reply with another handle", () => {
    expect(outcome(READ, [words(HANDLE ^ 1), words()])).toEqual({
      result: { result: "done", words: [0x1234] },
      said: 2,
    });
    const strange = { kind: "error", code: 4, handle: HANDLE ^ 1 } as const;
    expect(outcome(READ, [strange, strange, strange]).result.result).toBe("tag_error");
    expect(outcome(READ, [{ ...strange, handle: HANDLE }]).result.result).toBe("tag_memory_locked");
  });

  it("is lost when the last reply to a kill is missing or another's, and dead when it is its own", () => {
    const kill: Access = { kind: "kill", password: 0x1f2e_3d4c };
    const first: Reply = { kind: "handle", handle: HANDLE };
    const done = (handle: number): Reply => ({ kind: "success", handle });
    expect(outcome(kill, [first, done(HANDLE)]).result.result).toBe("done");
    expect(outcome(kill, [first, null]).result.result).toBe("tag_lost");
    expect(outcome(kill, [first, done(HANDLE ^ 1)]).result.result).toBe("tag_lost");
    expect(outcome(kill, [null]).result.result).toBe("tag_lost");
  });
});
