/** The tag's states from slot to handle, and what it says on the way (GS1 EPC Gen2 version 2, from memory). */
import { describe, expect, it } from "vitest";
import { bitsOf } from "../../../sim/air/bits.ts";
import { encodeCommand } from "../../../sim/air/encode-command.ts";
import { AirPartner, errorOf, isDone, QUERY, SELECT_ALL } from "../support/air-partner.ts";

const rep = { kind: "query_rep", session: 0 } as const;
const adjust = (change: 1 | 0 | -1) => ({ kind: "query_adjust", session: 0, change }) as const;

describe("a slot", () => {
  it("of four comes up once in a round, and each about as often as the others", () => {
    const counts = [0, 0, 0, 0];
    const partner = new AirPartner();
    for (let i = 0; i < 400; i++) {
      const spoke = [partner.query({ q: 2 }) !== null];
      for (let slot = 1; slot < 4; slot++) spoke.push(partner.say(rep) !== null);
      expect(spoke.filter(Boolean)).toHaveLength(1);
      counts[spoke.indexOf(true)]!++;
    }
    // Binomial with 400 draws of 1/4: four standard deviations of 8.66.
    for (const count of counts) expect(Math.abs(count - 100)).toBeLessThan(35);
  });

  it("does not come again in a round in which it was passed over", () => {
    const partner = new AirPartner();
    expect(partner.query()).not.toBeNull();
    for (let i = 0; i < 200; i++) expect(partner.say(rep)).toBeNull();
    expect(partner.say(adjust(0))).not.toBeNull();
  });

  it("is drawn among twice as many after QueryAdjust up, and among half as many after down", () => {
    const share = (changes: readonly (1 | 0 | -1)[], q: number) => {
      const partner = new AirPartner();
      let spoke = 0;
      for (let i = 0; i < 400; i++) {
        partner.query({ q });
        let bits = null;
        for (const change of changes) bits = partner.say(adjust(change));
        if (bits) spoke++;
      }
      return spoke / 400;
    };
    expect(share([1], 0)).toBeCloseTo(1 / 2, 1);
    expect(share([1, 1], 0)).toBeCloseTo(1 / 4, 1);
    expect(share([-1], 1)).toBe(1);
    expect(share([-1], 0)).toBe(1);
    expect(share([0], 0)).toBe(1);
  });

  it("is that of its own session: a QueryRep or QueryAdjust of another is not heard", () => {
    for (const command of [rep, adjust(0)]) {
      const partner = new AirPartner();
      expect(partner.query({ session: 2 })).not.toBeNull();
      expect(partner.say(command)).toBeNull();
      expect(partner.chip.state).toBe("reply");
    }
  });

  it("is forgotten when power fails: neither QueryRep nor QueryAdjust brings an answer without a Query", () => {
    const partner = new AirPartner();
    partner.query({ q: 1 });
    partner.losePower(1000);
    expect(partner.chip.state).toBe("ready");
    for (const command of [rep, adjust(0), adjust(-1)]) expect(partner.say(command)).toBeNull();
  });
});

describe("an ACK", () => {
  it("brings PC, XPC_W1, EPC and a CRC-16, as often as it is said", () => {
    const partner = new AirPartner();
    const rn = partner.query()!;
    const { pc, xpc } = partner.memory.identity();
    for (let i = 0; i < 3; i++) {
      const reply = partner.say({ kind: "ack", rn })!;
      expect(reply.slice(0, -16)).toEqual([...bitsOf(pc, 16), ...bitsOf(xpc, 16), ...partner.epc]);
      expect(reply).toHaveLength(144);
    }
  });

  it("of a tag without XPC indicator has the lower half of XPC_W1 in the PC word", () => {
    const partner = new AirPartner();
    partner.memory.poke(1, 1, [0x3400]);
    partner.memory.poke(1, 33, [0x0024]);
    const reply = partner.say({ kind: "ack", rn: partner.query()! })!;
    expect(reply.slice(0, -16)).toEqual([...bitsOf(0x3424, 16), ...partner.epc]);
  });

  it("with another number sends the tag back to wait", () => {
    for (const singulated of [false, true]) {
      const partner = new AirPartner();
      const rn = singulated ? partner.singulate() : partner.query()!;
      expect(partner.say({ kind: "ack", rn: rn ^ 1 })).toBeNull();
      expect(partner.chip.state).toBe("arbitrate");
      expect(partner.say({ kind: "ack", rn })).toBeNull();
    }
  });

  it("with the handle is answered by a tag that has one", () => {
    const partner = new AirPartner();
    const handle = partner.singulate();
    expect(partner.say({ kind: "ack", rn: handle })).toHaveLength(144);
    expect(partner.chip.state).toBe("open");
  });

  // T2 is at most 20 periods of the link frequency: 31.25 µs.
  it.each([
    [31, true],
    [32, false],
  ])("that begins %i µs behind the reply is in time: %s", (gapUs, inTime) => {
    for (const state of ["reply", "acknowledged"]) {
      const partner = new AirPartner();
      const rn = partner.query()!;
      if (state === "acknowledged") partner.say({ kind: "ack", rn });
      partner.nowUs += gapUs - 10;
      expect(partner.say({ kind: "ack", rn }) !== null).toBe(inTime);
    }
  });

  it("may come late to a tag that has given its handle", () => {
    const partner = new AirPartner();
    const handle = partner.singulate();
    partner.nowUs += 1e6;
    expect(partner.read(handle, 3, 0)).not.toBeNull();
  });
});

describe("a NAK", () => {
  it("sends a tag in a round back to wait, and leaves one that is in none", () => {
    const partner = new AirPartner();
    partner.say({ kind: "nak" });
    expect(partner.chip.state).toBe("ready");
    const handle = partner.singulate();
    partner.say({ kind: "nak" });
    expect(partner.chip.state).toBe("arbitrate");
    expect(partner.read(handle, 3, 0)).toBeNull();
  });
});

describe("a Query", () => {
  it("with a wrong CRC-5, or with a bit too many, is none", () => {
    const partner = new AirPartner();
    const bits = encodeCommand(QUERY);
    for (let i = 4; i < bits.length; i++) {
      const wrong = bits.map((bit, at) => (at === i ? 1 - bit : bit));
      expect(partner.sayBits(wrong)).toBeNull();
    }
    expect(partner.sayBits([...bits, 0])).toBeNull();
    expect(partner.chip.state).toBe("ready");
  });
});

describe("a handle", () => {
  it("is another one in every singulation, and never taken by its neighbours", () => {
    const partner = new AirPartner();
    const handles = Array.from({ length: 20 }, () => partner.singulate());
    expect(new Set(handles).size).toBeGreaterThan(18);
    const handle = handles.at(-1)!;
    for (let bit = 0; bit < 16; bit++) expect(partner.read(handle ^ (1 << bit), 3, 0)).toBeNull();
    expect(partner.read(handles[0]!, 3, 0)).toBeNull();
    expect(partner.read(handle, 3, 0)).not.toBeNull();
  });

  it("is not given for another RN16 than the tag's", () => {
    const partner = new AirPartner();
    const rn = partner.query()!;
    partner.say({ kind: "ack", rn });
    expect(partner.say({ kind: "req_rn", rn: rn ^ 0x8000 })).toBeNull();
    expect(partner.chip.state).toBe("acknowledged");
  });
});

describe("words", () => {
  it("of a Read with a count of 0 go to the end: of the EPC, of the region, of the bank", () => {
    const partner = new AirPartner();
    const handle = partner.singulate();
    const length = (bank: number, word: number) => (partner.read(handle, bank, word, 0)!.length - 33) / 16;
    expect([length(1, 2), length(1, 5), length(1, 33), length(2, 0), length(3, 0), length(3, 103)]).toEqual([
      6, 3, 1, 6, 104, 1,
    ]);
  });

  it.each([
    [3, 103, 2],
    [3, 104, 1],
    [3, 104, 0],
    [2, 6, 1],
    [1, 8, 1],
    [0, 4, 1],
  ])("of bank %i from %i, %i of them, are an overrun", (bank, word, count) => {
    const partner = new AirPartner();
    partner.configure({ access: 0 });
    const handle = partner.singulate();
    expect(errorOf(partner.read(handle, bank, word, count))).toBe(3);
  });

  it("are written with the number that was given for the word, and with no other", () => {
    const partner = new AirPartner();
    partner.configure({ locks: 0 });
    const handle = partner.singulate();
    expect(partner.say({ kind: "write", bank: 3, word: 40, covered: 0x1234, handle })).toBeNull();
    expect(isDone(partner.write(handle, 3, 40, 0x1234), handle)).toBe(true);
    expect(partner.memory.peek(3, 40)).toBe(0x1234);
    const rn = partner.coverOf(handle);
    partner.read(handle, 3, 40);
    expect(partner.say({ kind: "write", bank: 3, word: 40, covered: 0x5678 ^ rn, handle })).toBeNull();
    expect(partner.memory.peek(3, 40)).toBe(0x1234);
  });

  it("of a BlockWrite or BlockErase are all written or none: sixteen at most, and no further than the bank", () => {
    const partner = new AirPartner();
    partner.configure({ locks: 0 });
    const handle = partner.singulate();
    const words = Array.from({ length: 16 }, (_, i) => 0x1000 + i);
    expect(isDone(partner.say({ kind: "block_write", bank: 3, word: 40, words, handle }), handle)).toBe(true);
    expect(partner.memory.read(3, 40, 16, true)).toEqual(words);
    expect(errorOf(partner.say({ kind: "block_write", bank: 3, word: 40, words: [...words, 0], handle }))).toBe(1);
    expect(errorOf(partner.say({ kind: "block_write", bank: 3, word: 103, words: [1, 2], handle }))).toBe(3);
    expect(partner.memory.peek(3, 103)).toBe(0);
    expect(isDone(partner.say({ kind: "block_erase", bank: 3, word: 42, count: 3, handle }), handle)).toBe(true);
    expect(partner.memory.read(3, 41, 5, true)).toEqual([0x1001, 0, 0, 0, 0x1005]);
    expect(errorOf(partner.say({ kind: "block_erase", bank: 3, word: 42, count: 0, handle }))).toBe(1);
  });

  it("are not written without power enough, and the tag says so with 0Bh", () => {
    const partner = new AirPartner();
    partner.configure({ locks: 0 });
    const handle = partner.singulate();
    partner.canWrite = false;
    const before = partner.memory.peek(3, 40);
    expect(errorOf(partner.write(handle, 3, 40, before ^ 1))).toBe(0x0b);
    expect(partner.memory.peek(3, 40)).toBe(before);
  });

  it("that power fails over are torn in the one being written, and as they were in those behind it", () => {
    const partner = new AirPartner();
    partner.configure({ locks: 0 });
    const handle = partner.singulate();
    partner.memory.poke(3, 40, [0, 0, 0, 0]);
    const words = [0xffff, 0xffff, 0xffff, 0xffff];
    const bits = encodeCommand({ kind: "block_write", bank: 3, word: 40, words, handle });
    const [startUs, endUs] = [partner.nowUs + 10, partner.nowUs + 60];
    const profile = { tariUs: 6.25, rtcalUs: 15.625, trcalUs: 100 / 3, dr: 1, m: 0, trext: false } as const;
    const answer = partner.chip.hear({ bits, startUs, endUs, profile, canWrite: true })!;
    // A word takes a millisecond: the first is written, the second half.
    answer.steps[0]!.run();
    partner.chip.powerDown(endUs + 1500);
    for (const step of answer.steps.slice(1)) step.run();
    expect(answer.bits()).toBeNull();
    const [first, second, ...rest] = partner.memory.read(3, 40, 4, true) as number[];
    expect([first, rest]).toEqual([0xffff, [0, 0]]);
    expect(second).toBe(0xff00);
  });
});

describe("the reply to a Select", () => {
  it("does not exist, whatever it matches", () => {
    const partner = new AirPartner();
    expect(partner.say(SELECT_ALL)).toBeNull();
    expect(partner.say({ ...SELECT_ALL, bank: 2, pointer: 0, mask: [1, 1, 1, 0] })).toBeNull();
  });

  it.each([5, 6, 7])("of target %i, which is kept for later, is not heard at all", (target) => {
    const partner = new AirPartner();
    const handle = partner.singulate();
    expect(partner.say({ ...SELECT_ALL, target: target as 0 })).toBeNull();
    expect(partner.chip.state).toBe("open");
    expect(partner.read(handle, 3, 0)).not.toBeNull();
  });

  it.each([
    ["bits behind the bank", 3, 16 * 104, [0]],
    ["bits across its end", 3, 16 * 104 - 1, [0, 0]],
    ["passwords", 0, 32, [0]],
  ])("and %s match nothing", (_, bank, pointer, mask) => {
    const partner = new AirPartner();
    partner.configure({ access: 0 });
    for (const value of [0, 1]) {
      partner.say({ ...SELECT_ALL, target: 4, action: 4 });
      partner.say({ ...SELECT_ALL, target: 4, bank, pointer, mask: mask.map(() => value) });
      expect(partner.query({ sel: 3 })).toBeNull();
    }
  });
});
