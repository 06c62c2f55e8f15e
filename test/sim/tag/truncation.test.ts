/**
 * Truncated replies: a Select that asks for one has the tag answer an ACK of a round for SL with five zeros, the EPC behind
 * the mask and a CRC-16 over both (GS1 EPC Gen2 version 2, from memory).
 */
import { describe, expect, it } from "vitest";
import type { Bits } from "../../../sim/air/bits.ts";
import { type Select, SL } from "../../../sim/air/command.ts";
import { AirPartner, SELECT_ALL } from "../support/air-partner.ts";

/** PC, XPC_W1, six words of EPC and the CRC-16. */
const WHOLE = 16 + 16 + 96 + 16;

/** The reply to an ACK after this Select, in a round for tags with SL or for all. */
function acknowledged(partner: AirPartner, select: Partial<Select>, sel: 0 | 3 = 3): Bits | null {
  partner.say({ ...SELECT_ALL, target: SL, action: 4 });
  partner.say({ ...SELECT_ALL, target: SL, truncate: true, pointer: 32, ...select });
  const rn = partner.query({ sel });
  return rn === null ? null : partner.say({ kind: "ack", rn });
}

/** CRC-16 by its definition: polynomial 1021h, preset FFFFh; a good frame leaves 1D0Fh. */
function residue(bits: Bits): number {
  let register = 0xffff;
  for (const bit of bits) {
    const out = (register >> 15) ^ bit;
    register = ((register << 1) & 0xffff) ^ (out ? 0x1021 : 0);
  }
  return register;
}

describe("a truncated reply", () => {
  it.each([1, 8, 16, 33, 95])("behind a mask of the EPC's first %i bits", (length) => {
    const partner = new AirPartner();
    const reply = acknowledged(partner, { mask: partner.epc.slice(0, length) })!;
    expect(reply.slice(0, -16)).toEqual([0, 0, 0, 0, 0, ...partner.epc.slice(length)]);
    expect(residue(reply)).toBe(0x1d0f);
  });

  it("begins behind the mask, wherever in the EPC the mask begins", () => {
    const partner = new AirPartner();
    const reply = acknowledged(partner, { pointer: 32 + 40, mask: partner.epc.slice(40, 60) })!;
    expect(reply.slice(0, -16)).toEqual([0, 0, 0, 0, 0, ...partner.epc.slice(60)]);
  });

  it("is five zeros when the mask is the whole EPC", () => {
    const partner = new AirPartner();
    expect(acknowledged(partner, { mask: partner.epc })!.slice(0, -16)).toEqual([0, 0, 0, 0, 0]);
  });

  it("comes in a round for SL only", () => {
    const partner = new AirPartner();
    expect(acknowledged(partner, { mask: partner.epc.slice(0, 8) }, 0)).toHaveLength(WHOLE);
  });

  it("ends with the next Select, and with power", () => {
    const partner = new AirPartner();
    const mask = partner.epc.slice(0, 8);
    acknowledged(partner, { mask });
    partner.say({ ...SELECT_ALL, target: SL, pointer: 32, mask });
    expect(partner.say({ kind: "ack", rn: partner.query({ sel: 3 })! })).toHaveLength(WHOLE);
    expect(acknowledged(partner, { mask })).toHaveLength(5 + 88 + 16);
    // SL outlasts this, what was asked for does not.
    partner.losePower(1000);
    expect(partner.say({ kind: "ack", rn: partner.query({ sel: 3 })! })).toHaveLength(WHOLE);
  });

  it("is not given by a tag that the mask does not fit", () => {
    const partner = new AirPartner();
    const mask = partner.epc.slice(0, 8).map((bit) => 1 - bit);
    expect(acknowledged(partner, { mask })).toBeNull();
  });

  it.each<[string, (partner: AirPartner) => Partial<Select>]>([
    ["begins in the PC word", (partner) => ({ pointer: 31, mask: [0, ...partner.epc.slice(0, 7)] })],
    ["ends behind the EPC", (partner) => ({ pointer: 32, mask: [...partner.epc, 0] })],
  ])("is refused when the mask %s: that fits no tag", (_, select) => {
    const partner = new AirPartner();
    expect(acknowledged(partner, select(partner))).toBeNull();
  });

  it("is refused when the mask ends behind an EPC that is shorter than the bank has room for", () => {
    const partner = new AirPartner();
    const bits = partner.epc;
    partner.memory.poke(1, 1, [0x1e00]);
    expect(partner.epc).toEqual(bits.slice(0, 48));
    expect(acknowledged(partner, { mask: bits.slice(0, 49) })).toBeNull();
    expect(acknowledged(partner, { mask: bits.slice(0, 48) })!.slice(0, -16)).toEqual([0, 0, 0, 0, 0]);
  });

  it.each<[string, Partial<Select>]>([
    ["another bank", { bank: 2, pointer: 0, mask: [1, 1, 1] }],
    ["an inventoried flag", { target: 2, action: 4, mask: [] }],
  ])("asked for of %s is no command: no flag changes, nor what the tag does", (_, select) => {
    const partner = new AirPartner();
    const handle = partner.singulate();
    expect(partner.say({ ...SELECT_ALL, target: SL, truncate: true, ...select })).toBeNull();
    expect(partner.chip.state).toBe("open");
    expect(partner.read(handle, 3, 0)).not.toBeNull();
    expect(partner.query({ sel: 3 })).toBeNull();
    expect(partner.query({ session: 2, target: "B" })).toBeNull();
  });
});
