import { describe, expect, it } from "vitest";
import { nameOf, physicalOf, rawOf } from "../../../protocol/codec/record.ts";
import { encodeFrame } from "../../../protocol/link/framing.ts";
import type { Message } from "../../../protocol/link/message.ts";
import { reasons } from "../../../protocol/model/reasons.ts";
import { makeKit, type Scenario, scenarios } from "../../../sim/index.ts";
import { LinkHost, messagesIn, requestBytes } from "../support/link-host.ts";

const scenario = scenarios["training-leg"]!;
const S = 1e6;
const EPCS = scenario.tags.map(({ epc }) => words(epc));
const INVENTORY = { period: 200, bank: 3, pointer: 0, word_count: 32 };

function words(epc: string): number[] {
  return epc.match(/.{4}/g)!.map((group) => Number.parseInt(group, 16));
}

const host = (more: Partial<Scenario> = {}) => new LinkHost(makeKit({ ...scenario, ...more }));
const named = (messages: readonly Message[], id: string) => messages.filter(({ message }) => message.id === id);

/** [reason, about, byte] of an error. */
const error = ({ message, content }: Message) => {
  expect(message.id).toBe("error");
  return [rawOf(content, "reason"), rawOf(content, "about"), rawOf(content, "byte")];
};

function readRequest(tag: number, more: Readonly<Record<string, number>> = {}) {
  return [{ password: 0, bank: 3, pointer: 0, word_count: 8, epc_words: 6, ...more }, { epc: EPCS[tag]! }] as const;
}

describe("hello", () => {
  it("is answered with what the kit is, and an ambient report follows at once and every second", () => {
    const kit = host();
    const heard = kit.wait(3.5 * S);
    const welcome = named(heard, "welcome")[0]!;
    expect(welcome.request).toBe(1);
    expect(rawOf(welcome.content, "max_outstanding")).toBe(4);
    expect(physicalOf(welcome.content, "power_high")).toBe(30);
    expect(rawOf(welcome.content, "barometer_uncertainty")).toBe(12);
    const times = named(heard, "ambient_report").map(({ content }) => rawOf(content, "kit_time"));
    expect(times).toEqual([0, 1 * S, 2 * S, 3 * S]);
    for (const { content } of named(heard, "ambient_report")) {
      // The scenario's base, its kit's error of 5 Pa, and room for six times its noise of 0.6 Pa.
      expect(Math.abs(physicalOf(content, "pressure")! - 100_825)).toBeLessThan(4);
    }
  });

  it("holds no more requests than the host wants", () => {
    const kit = makeKit(scenario);
    kit.receive(requestBytes("hello", 9, { link_version: 1, max_outstanding: 2 }));
    expect(rawOf(messagesIn(kit.take())[0]!.content, "max_outstanding")).toBe(2);
  });

  it("comes first: nothing else is served before it, nor for a host of another version", () => {
    const kit = makeKit(scenario);
    kit.receive(requestBytes("keep_alive", 5));
    const early = messagesIn(kit.take());
    expect(early.map(error)).toEqual([[reasons["message-not-now"].number, 0x0a, 0]]);
    expect(early[0]!.request).toBe(5);
    kit.receive(requestBytes("hello", 6, { link_version: 2, max_outstanding: 1 }));
    expect(rawOf(messagesIn(kit.take())[0]!.content, "link_version")).toBe(1);
    kit.receive(requestBytes("keep_alive", 7));
    kit.advance(3 * S);
    expect(messagesIn(kit.take()).map(({ message }) => message.id)).toEqual(["error"]);
  });

  it("ends what an earlier host had under way", () => {
    const kit = host();
    kit.ask("start_inventory", INVENTORY);
    kit.wait(2 * S);
    kit.say("hello", { link_version: 1, max_outstanding: 4 });
    expect(named(kit.wait(3 * S), "tag_report")).toEqual([]);
    // A read brings the carrier back, but not the rounds.
    kit.heard.length = 0;
    kit.ask("read", ...readRequest(0));
    kit.wait(1 * S);
    expect(named(kit.heard, "access_answer")).toHaveLength(1);
    expect(named(kit.heard, "tag_report")).toEqual([]);
  });
});

describe("inventory", () => {
  it("reports every tag in every round with the words asked for, in the order of kit time", () => {
    const kit = host();
    kit.ask("start_inventory", INVENTORY);
    kit.wait(4 * S);
    const reports = named(kit.heard, "tag_report");
    const perTag = EPCS.map((epc) => reports.filter(({ content }) => String(content.tails.epc) === String(epc)).length);
    for (const count of perTag.slice(0, 3)) expect(count).toBeGreaterThanOrEqual(18);
    const times = reports.map(({ content }) => rawOf(content, "kit_time"));
    expect([...times].sort((a, b) => a - b)).toEqual(times);
    for (const { content } of reports.slice(0, 20)) {
      expect(rawOf(content, "pc")).toBe(0x3600);
      expect(rawOf(content, "xpc")).toBe(0x0200);
      if (nameOf(content, "result") === "done") expect(content.tails.words).toHaveLength(32);
      expect([865_700, 866_300, 866_900, 867_500]).toContain(rawOf(content, "frequency"));
      expect(physicalOf(content, "rssi")).toBeLessThan(-20);
    }
  });

  it("never begins a round before the one before it is over, however short the period", () => {
    const kit = host();
    kit.ask("start_inventory", { ...INVENTORY, period: 10 });
    kit.wait(2 * S);
    const times = named(kit.heard, "tag_report").map(({ content }) => rawOf(content, "kit_time"));
    expect([...times].sort((a, b) => a - b)).toEqual(times);
    // Four tags at 5 ms a slot and one slot to spare: at most 40 rounds a second.
    expect(times.length).toBeGreaterThan(200);
    expect(times.length).toBeLessThanOrEqual(2 * 40 * 4);
  });

  it("says that no words were asked for, and why words could not be had", () => {
    const result = (settings: object) => {
      const kit = host();
      kit.ask("start_inventory", { ...INVENTORY, ...settings });
      kit.wait(1 * S);
      const found = named(kit.heard, "tag_report");
      expect(found.length).toBeGreaterThan(5);
      return [...new Set(found.map(({ content }) => nameOf(content, "result")))].filter((name) => name !== "tag_lost");
    };
    expect(result({ word_count: 0 })).toEqual(["not_asked"]);
    expect(result({ pointer: 80 })).toEqual(["tag_memory_overrun"]);
    expect(result({ bank: 0, word_count: 2 })).toEqual(["tag_memory_locked"]);
    expect(result({})).toEqual(["done"]);
  });

  it("ends when it is told to, and the tags lose their power", () => {
    const kit = host();
    kit.ask("start_inventory", INVENTORY);
    kit.wait(2 * S);
    kit.ask("stop_inventory");
    // The store carries the firmware on for a while, and then no further.
    expect(named(kit.wait(60 * S), "tag_report")).toEqual([]);
    kit.ask("start_inventory", INVENTORY);
    kit.wait(2 * S);
    const counters = kit.ask("read", ...readRequest(0, { pointer: 24, word_count: 16 })).content.tails.words!;
    // Two cold starts since the tag was made; the count is in words 1 and 2 of each of the two places.
    expect(Math.max(counters[2]!, counters[10]!)).toBe(2);
  });

  it("finds no tag at low power and finds them again at full power", () => {
    const kit = host();
    kit.ask("set_power", { power: 1000 });
    kit.ask("start_inventory", INVENTORY);
    expect(named(kit.wait(3 * S), "tag_report")).toEqual([]);
    kit.ask("set_power", { power: 3000 });
    expect(named(kit.wait(3 * S), "tag_report").length).toBeGreaterThan(30);
  });

  it("keeps to the channel plan", () => {
    const kit = host();
    kit.ask("set_channel_plan", { plan: 2 });
    kit.ask("start_inventory", INVENTORY);
    const found = named(kit.wait(8 * S), "tag_report").map(({ content }) => rawOf(content, "frequency"));
    // The three that EU decision 2018/1538 names.
    const seen = new Set(found);
    for (const channel of seen) expect([916_300, 917_500, 918_700]).toContain(channel);
    expect(seen.size).toBeGreaterThan(1);
  });

  it("has a weakly coupled tag that starts cold again and again, and three that do not", () => {
    const kit = host();
    kit.ask("start_inventory", { ...INVENTORY, pointer: 24, word_count: 16 });
    kit.wait(60 * S);
    const last = EPCS.map((epc) => {
      const done = named(kit.heard, "tag_report").filter(
        ({ content }) => String(content.tails.epc) === String(epc) && nameOf(content, "result") === "done",
      );
      const [cold, brown] = [0, 8].reduce(
        ([c, b], at) => {
          const w = done.at(-1)!.content.tails.words!;
          return [Math.max(c!, w[at + 2]!), Math.max(b!, w[at + 4]!)];
        },
        [0, 0],
      );
      return { reports: done.length, cold: cold!, brown: brown! };
    });
    for (const { cold, brown } of last.slice(0, 3)) expect([cold, brown]).toEqual([1, 0]);
    expect(last[3]!.cold).toBeGreaterThan(5);
    expect(last[3]!.brown).toBeGreaterThan(0);
    expect(last[3]!.reports).toBeGreaterThan(50);
    expect(last[3]!.reports).toBeLessThan(last[0]!.reports * 0.9);
  });
});

describe("settings", () => {
  it("are refused outside what the kit can do, with the byte of the value", () => {
    const kit = host();
    const refused = reasons["request-refused"].number;
    expect(error(kit.ask("set_power", { power: 3001 }))).toEqual([refused, 0x02, 3]);
    expect(error(kit.ask("set_power", { power: -1 }))).toEqual([refused, 0x02, 3]);
    expect(kit.ask("set_power", { power: 0 }).message.id).toBe("done");
    for (const plan of [1, 2, 3]) expect(kit.ask("set_channel_plan", { plan }).message.id).toBe("done");
  });
});

describe("access", () => {
  const password = scenario.tags[0]!.accessPassword;
  const result = ({ message, content }: Message) => {
    expect(message.id).toBe("access_answer");
    return nameOf(content, "result");
  };
  const write = (more: Readonly<Record<string, number>>, data: readonly number[]) =>
    [
      { password: 0, bank: 3, pointer: 100, word_count: data.length, epc_words: 6, ...more },
      { epc: EPCS[0]!, words: data },
    ] as const;

  it("wakes the tags for a read without an inventory", () => {
    const kit = host();
    const answer = kit.ask("read", ...readRequest(1, { bank: 1, pointer: 2, word_count: 6 }));
    expect(result(answer)).toBe("done");
    expect(answer.content.tails.words).toEqual(EPCS[1]);
    expect(rawOf(answer.content, "kit_time")).toBeGreaterThan(100_000);
  });

  it("gives the tags their time when a read follows the start of an inventory at once", () => {
    const kit = host();
    kit.say("start_inventory", INVENTORY);
    expect(result(kit.ask("read", ...readRequest(0)))).toBe("done");
  });

  it("finds StoredCRC over PC and EPC at word 0", () => {
    const [crc] = host().ask("read", ...readRequest(0, { bank: 1, pointer: 0, word_count: 1 })).content.tails.words!;
    // CRC-16/GENIBUS by the long way: polynomial x¹⁶+x¹²+x⁵+1, preset FFFFh, complemented (GS1 EPC Gen2 annex F).
    let register = 0xffff;
    for (const word of [0x3600, ...EPCS[0]!]) {
      for (let bit = 15; bit >= 0; bit--) {
        const out = (register >> 15) ^ ((word >> bit) & 1);
        register = ((register << 1) & 0xffff) ^ (out ? 0x1021 : 0);
      }
    }
    expect(crc).toBe(register ^ 0xffff);
  });

  it("finds a new StoredCRC after the EPC was changed and the tag lost its power, not before", () => {
    const kit = host();
    const crc = () =>
      kit.ask("read", { ...readRequest(0, { bank: 1, pointer: 0, word_count: 1 })[0] }, { epc }).content.tails
        .words![0]!;
    let epc = EPCS[0]!;
    const before = crc();
    expect(result(kit.ask("write", ...write({ password, bank: 1, pointer: 7 }, [0x1111])))).toBe("done");
    epc = [...epc.slice(0, 5), 0x1111];
    expect(crc()).toBe(before);
    // Until the store is empty.
    kit.wait(60 * S);
    expect(crc()).not.toBe(before);
  });

  it("says that a tag is not there", () => {
    const answer = host().ask("read", readRequest(0)[0], { epc: [1, 2, 3, 4, 5, 6] });
    expect(result(answer)).toBe("tag_lost");
    expect(answer.content.tails.words).toEqual([]);
  });

  it("writes with the access password only, and says which it was not given", () => {
    const kit = host();
    for (const id of ["write", "block_write"]) {
      expect(result(kit.ask(id, ...write({}, [1, 2])))).toBe("tag_memory_locked");
      expect(result(kit.ask(id, ...write({ password: 1 }, [1, 2])))).toBe("password_wrong");
      expect(result(kit.ask(id, ...write({ password, pointer: 103 }, [1, 2])))).toBe("tag_memory_overrun");
      expect(result(kit.ask(id, ...write({ password }, [0xbeef, id.length])))).toBe("done");
      const read = kit.ask("read", ...readRequest(0, { pointer: 100, word_count: 2 }));
      expect(read.content.tails.words).toEqual([0xbeef, id.length]);
    }
  });

  it("has power for reading before it has power for writing", () => {
    const kit = host();
    // 20.5 dBm and a gain of -29 dB: 0.5 dB above the turn-on power of -9 dBm, give or take the fading of 0.8 dB.
    kit.ask("set_power", { power: 2050 });
    const reads = Array.from({ length: 20 }, () => result(kit.ask("read", ...readRequest(0))));
    const writes = Array.from({ length: 20 }, () => result(kit.ask("write", ...write({ password }, [1]))));
    expect(reads).toContain("done");
    expect(writes).toContain("tag_power_insufficient");
    expect(writes).not.toContain("done");
  });

  it("locks with the password only", () => {
    const kit = host();
    const lock = (more: object) =>
      result(kit.ask("lock", { password: 0, mask: 0b10, action: 0, epc_words: 6, ...more }, { epc: EPCS[0]! }));
    expect(lock({})).toBe("tag_error");
    expect(lock({ password })).toBe("done");
    expect(result(kit.ask("write", ...write({}, [3])))).toBe("done");
    // The TID is locked for good, so nobody can open it.
    expect(lock({ password, mask: 0b1000 })).toBe("tag_memory_locked");
  });

  it("refuses an access to no words", () => {
    const refused = reasons["request-refused"].number;
    expect(error(host().ask("read", ...readRequest(0, { word_count: 0 })))).toEqual([refused, 0x06, 10]);
    expect(error(host().ask("write", ...write({}, [])))).toEqual([refused, 0x07, 10]);
  });

  it("holds as many as agreed and refuses the next, each under its own request id", () => {
    const kit = host();
    const ids = Array.from({ length: 6 }, () => kit.say("read", ...readRequest(0)));
    const answers = kit.wait(1 * S).filter(({ message }) => ["access_answer", "error"].includes(message.id));
    expect(named(answers, "access_answer").map(({ request }) => request)).toEqual(ids.slice(0, 4));
    expect(named(answers, "error").map(({ request }) => request)).toEqual(ids.slice(4));
    for (const answer of named(answers, "error")) {
      expect(error(answer)).toEqual([reasons["too-many-outstanding"].number, 0x06, 0]);
    }
  });
});

describe("what the kit does not understand", () => {
  const answerTo = (bytes: Uint8Array) => {
    const kit = makeKit(scenario);
    kit.receive(bytes);
    return messagesIn(kit.take());
  };

  it("is answered by an error that repeats type and request id", () => {
    const [unknown] = answerTo(encodeFrame(Uint8Array.of(0x33, 0x12, 0x34)));
    expect(error(unknown!)).toEqual([reasons["message-unknown"].number, 0x33, 0]);
    expect(unknown!.request).toBe(0x1234);
    const [short] = answerTo(encodeFrame(Uint8Array.of(0x02, 0, 7)));
    expect(error(short!)).toEqual([reasons["record-too-short"].number, 0x02, 3]);
    expect(short!.request).toBe(7);
    const [long] = answerTo(encodeFrame(Uint8Array.of(0x0a, 0, 8, 99)));
    expect(error(long!)[0]).toBe(reasons["trailing-bytes"].number);
  });

  it("includes the kit's own messages sent back to it", () => {
    expect(error(answerTo(encodeFrame(Uint8Array.of(0x40, 0, 1)))[0]!)[0]).toBe(reasons["message-unknown"].number);
  });

  it("is an error about no request when the frame itself is damaged", () => {
    const bytes = requestBytes("keep_alive", 5);
    bytes[1]! ^= 0x10;
    const [answer] = answerTo(bytes);
    expect(error(answer!)).toEqual([reasons["link-checksum-mismatch"].number, 0, 0]);
    expect(answer!.request).toBe(0);
  });
});

describe("kit time", () => {
  it("never goes back", () => {
    const kit = makeKit(scenario);
    kit.advance(100);
    expect(() => kit.advance(99)).toThrow(RangeError);
    expect(() => kit.advance(Number.NaN)).toThrow(RangeError);
  });
});
