import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseHex } from "../../../protocol/bytes/hex.ts";
import { encode } from "../../../protocol/codec/encode.ts";
import { rawOf } from "../../../protocol/codec/record.ts";
import { chooseSlot, compareSerial } from "../../../protocol/codec/slots.ts";
import { compile, recordOf } from "../../../protocol/model/layout.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";

const frame = recordOf(compile(specification), "frame");

describe("serial-number arithmetic", () => {
  /**
   * RFC 1982, 5.1 (2 bits) and 5.2 (8 bits), from memory. Multiplied up to 16 bits, distances keep their share of the
   * number circle and the order stays the same.
   */
  it.each([
    [0x4000, 1, 0],
    [0x4000, 2, 1],
    [0x4000, 3, 2],
    [0x4000, 0, 3],
    [0x100, 1, 0],
    [0x100, 44, 0],
    [0x100, 100, 0],
    [0x100, 100, 44],
    [0x100, 200, 100],
    [0x100, 255, 200],
    [0x100, 0, 255],
    [0x100, 100, 255],
    [0x100, 0, 200],
    [0x100, 44, 200],
  ])("RFC 1982, in steps of %i: %i is after %i", (step, later, earlier) => {
    expect(compareSerial(later * step, earlier * step)).toBe(1);
    expect(compareSerial(earlier * step, later * step)).toBe(-1);
  });

  it.each([
    [0x4000, 0, 2],
    [0x4000, 1, 3],
    [0x100, 0, 128],
    [0x100, 255, 127],
  ])("RFC 1982, in steps of %i: the order of %i and %i is undefined", (step, a, b) => {
    expect(compareSerial(a * step, b * step)).toBeNull();
    expect(compareSerial(b * step, a * step)).toBeNull();
  });

  it("is antisymmetric, and adding up to 32767 is always after", () => {
    const serial = fc.integer({ min: 0, max: 0xffff });
    fc.assert(
      fc.property(serial, serial, (a, b) => {
        const [there, back] = [compareSerial(a, b), compareSerial(b, a)];
        expect(back).toBe(there === null || there === 0 ? there : -there);
        expect(there === 0).toBe(a === b);
      }),
    );
    fc.assert(
      fc.property(serial, fc.integer({ min: 1, max: 0x7fff }), (a, step) => {
        expect(compareSerial((a + step) % 0x10000, a)).toBe(1);
      }),
    );
  });
});

/** Frames put together by hand, seals by Python's binascii.crc_hqx with preset 504Ch. */
const sequence5 = "2100 0005 00c5 e680 0e44 7080 04d2 5c7a";
const sequence5Other = "2100 0005 00c5 e681 0e44 7080 04d2 e41b";
const sequence6 = "2100 0006 00c5 e680 0e44 7080 04d2 2480";
const sequence7 = "2100 0007 00c5 e680 0e44 7080 04d2 fcc9";
const sequence8005 = "2100 8005 00c5 e680 0e44 7080 04d2 f6db";
const sequenceFfff = "2100 ffff 00c5 e680 0e44 7080 04d2 518d";
const sequence0 = "2100 0000 00c5 e680 0e44 7080 04d2 d574";
const torn = "2100 0006 00c5 e680 0e44 7080 04d2 5c7a";
const empty = "0000 0000 0000 0000 0000 0000 0000 0000";

/** Header words before the slots, so that an offset forgotten shows. */
function choose(a: string, b: string) {
  const bytes = parseHex(`${"00".repeat(4)} ${a} ${b}`) as Uint8Array;
  return chooseSlot(frame, bytes, 4, 20);
}

describe("chooseSlot", () => {
  it.each([
    ["b is the next after a", sequence5, sequence6, "b", 6, []],
    ["a is the next after b", sequence6, sequence5, "a", 6, []],
    ["the sequence wraps", sequenceFfff, sequence0, "b", 0, []],
    ["the sequence wraps, the other way round", sequence0, sequenceFfff, "a", 0, []],
    ["a frame between them was missed", sequence5, sequence7, "b", 7, ["sequence-gap"]],
    ["the same frame stands twice", sequence5, sequence5, "a", 5, ["slots-identical"]],
    ["a is torn", torn, sequence5, "b", 5, ["slot-a-bad"]],
    ["b is torn", sequence5, torn, "a", 5, ["slot-b-bad"]],
    ["b was never written", sequence5, empty, "a", 5, ["slot-b-empty"]],
    ["a was never written", empty, sequence5, "b", 5, ["slot-a-empty"]],
  ] as const)("%s", (_, a, b, slot, sequence, notes) => {
    const choice = choose(a, b);
    expect(choice).toMatchObject({ slot, fault: null, notes });
    expect(rawOf(choice.frame!, "sequence")).toBe(sequence);
  });

  it.each([
    ["the same sequence with other bytes", sequence5, sequence5Other, "slots-contradict", "5 and 5", []],
    ["half the number circle apart", sequence5, sequence8005, "slots-contradict", "5 and 32773", []],
    ["both torn", torn, torn, "slots-both-bad", "checksum-mismatch, checksum-mismatch", ["slot-a-bad", "slot-b-bad"]],
    [
      "both never written",
      empty,
      empty,
      "slots-both-bad",
      "record-empty, record-empty",
      ["slot-a-empty", "slot-b-empty"],
    ],
    [
      "one torn, one never written",
      empty,
      torn,
      "slots-both-bad",
      "record-empty, checksum-mismatch",
      ["slot-a-empty", "slot-b-bad"],
    ],
  ] as const)("chooses none: %s", (_, a, b, code, actual, notes) => {
    const [byte, expected] = code === "slots-both-bad" ? [4, "one whole frame"] : [20, "sequences that can be ordered"];
    const fault = { code, byte, bit: null, path: "slots", expected, actual };
    expect(choose(a, b)).toMatchObject({ slot: null, frame: null, fault, notes });
  });

  it("keeps why each slot was refused", () => {
    expect(choose(empty, torn).faults).toMatchObject({
      a: { code: "record-empty", path: "frame" },
      b: { code: "checksum-mismatch", path: "frame.seal", expected: "0x2480", actual: "0x5c7a" },
    });
    expect(choose(sequence5, sequence6).faults).toEqual({ a: null, b: null });
  });

  it("takes what arrived of a read that ended early", () => {
    const bytes = parseHex(`${sequence5} ${sequence6.slice(0, 9)}`) as Uint8Array;
    expect(chooseSlot(frame, bytes, 0, 16)).toMatchObject({
      slot: "a",
      notes: ["slot-b-bad"],
      faults: { b: { code: "record-too-short", actual: "4 bytes" } },
    });
    expect(chooseSlot(frame, bytes.subarray(0, 10), 0, 16)).toMatchObject({
      slot: null,
      faults: { a: { actual: "10 bytes" }, b: { actual: "0 bytes" } },
    });
  });

  it("chooses the same frame with the slots exchanged, unless they are equal", () => {
    const serial = fc.integer({ min: 0, max: 0xffff });
    const written = (sequence: number, pressure: number) =>
      encode(frame, { status: 0, sequence, pressure, temperature: 3652, supply: 1800, uptime: 1234 }) as Uint8Array;
    fc.assert(
      fc.property(serial, fc.oneof(serial, fc.constantFrom(0, 1, 0x7fff, 0x8000, 0x8001, 0xffff)), (a, step) => {
        const [one, two] = [written(a, 12_969_600), written((a + step) % 0x10000, 12_969_601)];
        const there = chooseSlot(frame, [...one, ...two], 0, 16);
        const back = chooseSlot(frame, [...two, ...one], 0, 16);
        expect(there.frame?.raws).toEqual(back.frame?.raws);
        expect(there.fault?.code).toBe(back.fault?.code);
        expect(there.fault === null).toBe(step !== 0 && step !== 0x8000);
      }),
    );
  });
});
