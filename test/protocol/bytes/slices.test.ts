import { expect, it } from "vitest";
import type { CompiledSlice } from "../../../protocol/bytes/container.ts";
import { makeSlicesReader } from "../../../protocol/bytes/slices.ts";

const slice = (byte: number, more: Partial<CompiledSlice> = {}): CompiledSlice => ({
  byte,
  bytes: 2,
  little: false,
  shift: 0,
  width: 16,
  signed: false,
  ...more,
});

it("reads each slice once and writes nothing behind the last", () => {
  const raws: number[] = [];
  const read = makeSlicesReader([slice(0), slice(0, { shift: 12, width: 4 }), slice(2, { little: true, width: 8 })]);
  read(Uint8Array.of(0xff, 0x12, 0x34, 0x56, 0x78), 1, raws);
  // 1234h big-endian, its highest four bits, and the low byte of the little-endian word at 56h.
  expect(raws).toEqual([0x1234, 0x1, 0x56]);
});
