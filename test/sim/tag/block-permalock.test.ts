/**
 * BlockPermalock of the USER bank: blocks counted from the front, sixteen to a mask word, the first at its top; only for good
 * (GS1 EPC Gen2 version 2, from memory). Eight words a block is this invented chip's own choice: 104 words are 13 blocks.
 */
import { describe, expect, it } from "vitest";
import { sealed } from "../../../sim/air/bits.ts";
import { encodeCommand } from "../../../sim/air/encode-command.ts";
import { AirPartner, errorOf, isDone, numberAt } from "../support/air-partner.ts";

const PASSWORD = 0x1234_5678;
const [OVERRUN, LOCKED] = [3, 4];

function met(secured = true): { partner: AirPartner; handle: number } {
  const partner = new AirPartner();
  partner.configure({ access: PASSWORD });
  const handle = partner.singulate();
  if (secured) partner.password(handle, "access", PASSWORD);
  return { partner, handle };
}

const permalock = (handle: number, mask: readonly number[] | null, more: object = {}) =>
  ({ kind: "block_permalock", bank: 3, block: 0, range: mask?.length ?? 1, mask, handle, ...more }) as const;

/** The state of the first sixteen blocks as the tag tells it. */
function stateOf(partner: AirPartner, handle: number): number {
  const reply = partner.say(permalock(handle, null))!;
  expect(reply).toHaveLength(1 + 16 + 16 + 16);
  expect([reply[0], numberAt(reply, 17, 16)]).toEqual([0, handle]);
  return numberAt(reply, 1, 16);
}

describe("BlockPermalock", () => {
  it("closes the blocks of its mask to every writer and leaves the rest as they were", () => {
    const { partner, handle } = met();
    expect(stateOf(partner, handle)).toBe(0);
    // Blocks 0 and 5: words 0 to 7 and 40 to 47.
    expect(isDone(partner.say(permalock(handle, [0b1000_0100_0000_0000])), handle)).toBe(true);
    expect(stateOf(partner, handle)).toBe(0b1000_0100_0000_0000);
    for (const [word, open] of [
      [0, false],
      [7, false],
      [8, true],
      [39, true],
      [40, false],
      [47, false],
      [48, true],
      [103, true],
    ] as const) {
      const before = partner.memory.peek(3, word);
      const reply = partner.write(handle, 3, word, before ^ 1);
      if (open) expect(isDone(reply, handle)).toBe(true);
      else expect(errorOf(reply)).toBe(LOCKED);
      expect(partner.memory.peek(3, word)).toBe(open ? before ^ 1 : before);
    }
  });

  it("refuses a BlockWrite or BlockErase that reaches into a closed block, and writes none of its words", () => {
    const { partner, handle } = met();
    partner.say(permalock(handle, [0b0100_0000_0000_0000]));
    const before = partner.memory.read(3, 6, 4, true);
    expect(errorOf(partner.say({ kind: "block_write", bank: 3, word: 6, words: [1, 2, 3], handle }))).toBe(LOCKED);
    expect(errorOf(partner.say({ kind: "block_erase", bank: 3, word: 7, count: 2, handle }))).toBe(LOCKED);
    expect(partner.memory.read(3, 6, 4, true)).toEqual(before);
    expect(isDone(partner.say({ kind: "block_erase", bank: 3, word: 6, count: 2, handle }), handle)).toBe(true);
  });

  it("is for good: a mask without a block opens nothing, nor does Lock, nor the loss of power", () => {
    const { partner, handle } = met();
    partner.say(permalock(handle, [0b1000_0000_0000_0000]));
    partner.say(permalock(handle, [0b0100_0000_0000_0000]));
    partner.say({ kind: "lock", mask: 0b10, action: 0, handle });
    expect(stateOf(partner, handle)).toBe(0b1100_0000_0000_0000);
    partner.losePower(60e6);
    const again = partner.singulate();
    partner.password(again, "access", PASSWORD);
    expect(stateOf(partner, again)).toBe(0b1100_0000_0000_0000);
    expect(errorOf(partner.write(again, 3, 0, 0))).toBe(LOCKED);
  });

  it("takes the bank's last block, and no block behind it; a mask with one that is not there closes none", () => {
    const { partner, handle } = met();
    expect(errorOf(partner.say(permalock(handle, [0b1000_0000_0000_0100])))).toBe(OVERRUN);
    expect(stateOf(partner, handle)).toBe(0);
    expect(isDone(partner.say(permalock(handle, [0b0000_0000_0000_1000])), handle)).toBe(true);
    expect(stateOf(partner, handle)).toBe(0b0000_0000_0000_1000);
  });

  it("tells blocks that are not there as open, as long as some of the range are there", () => {
    const { partner, handle } = met();
    partner.say(permalock(handle, [0b0000_0000_0000_1000]));
    const reply = partner.say(permalock(handle, null, { range: 2 }))!;
    expect(reply).toHaveLength(1 + 32 + 16 + 16);
    expect(numberAt(reply, 1, 32)).toBe(0b0000_0000_0000_1000 * 65_536);
  });

  it.each<[string, object]>([
    ["behind the bank", { block: 1 }],
    ["of no blocks", { range: 0 }],
    ["of another bank", { bank: 1 }],
  ])("a range %s is an overrun", (_, more) => {
    const { partner, handle } = met();
    expect(errorOf(partner.say(permalock(handle, null, more)))).toBe(OVERRUN);
  });

  it("with a bit set that is kept for later is no command", () => {
    const { partner, handle } = met();
    const bits = encodeCommand(permalock(handle, [0x8000])).slice(0, -16);
    expect(bits.slice(8, 16)).toEqual([0, 0, 0, 0, 0, 0, 0, 0]);
    for (let at = 8; at < 16; at++) {
      expect(partner.sayBits(sealed(bits.map((bit, i) => (i === at ? 1 : bit))))).toBeNull();
    }
    expect(partner.memory.permalockedBlocks.size).toBe(0);
    expect(isDone(partner.sayBits(sealed(bits)), handle)).toBe(true);
  });

  it("is served by a secured tag only", () => {
    const { partner, handle } = met(false);
    expect(partner.say(permalock(handle, [0x8000]))).toBeNull();
    expect(partner.say(permalock(handle, null))).toBeNull();
    expect(partner.memory.permalockedBlocks.size).toBe(0);
  });

  it("without power enough closes nothing and says so with 0Bh; the state can be asked all the same", () => {
    const { partner, handle } = met();
    partner.canWrite = false;
    expect(errorOf(partner.say(permalock(handle, [0x8000])))).toBe(0x0b);
    expect(stateOf(partner, handle)).toBe(0);
  });
});
