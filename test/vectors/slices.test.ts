import { describe, expect, it } from "vitest";
import { readSlice, writeSlice } from "../../protocol/bytes/container.ts";
import { bytesOf, vectorsOf } from "../support/vectors.ts";

interface Given {
  readonly bytes: string;
  readonly at: number;
  readonly container: number;
  readonly order: "big" | "little";
  readonly bits: readonly [number, number];
  readonly signed: boolean;
}

const { good } = vectorsOf<Given, { raw: number }>("slices.json");

function sliceOf({ container, order, bits: [msb, lsb], signed }: Given) {
  return { byte: 0, bytes: container / 8, little: order === "little", shift: lsb, width: msb - lsb + 1, signed };
}

describe("slices.json", () => {
  it.each(good)("$id reads", ({ given, expected }) => {
    expect(readSlice(bytesOf(given.bytes), given.at, sliceOf(given))).toBe(expected.raw);
  });

  it.each(good)("$id writes and leaves the other bits", ({ given, expected }) => {
    const bytes = bytesOf(given.bytes);
    const slice = sliceOf(given);
    writeSlice(bytes, given.at, slice, 0);
    expect(readSlice(bytes, given.at, slice)).toBe(0);
    writeSlice(bytes, given.at, slice, expected.raw);
    expect(bytes).toEqual(bytesOf(given.bytes));
  });
});
