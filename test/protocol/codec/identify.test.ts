/** Headers of the present layout, of a released one, of a layout nobody here knows, and of one with the same number. */
import { describe, expect, it } from "vitest";
import { encode } from "../../../protocol/codec/encode.ts";
import { identifyHeader } from "../../../protocol/codec/identify.ts";
import { rawOf } from "../../../protocol/codec/record.ts";
import { compile, type Layout, recordOf } from "../../../protocol/model/layout.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { type Bent, bent } from "../../support/small-specification.ts";

function layoutNumber(s: Bent, number: number): void {
  s.layout = number;
  for (const record of s.records) {
    for (const field of record.fields) if (field.role === "layout") field.raw = number;
  }
}

/** The specification as a layout 2 whose sampling period is in tenths of a second. */
function second(s: Bent): void {
  layoutNumber(s, 2);
  s.records
    .find(({ id }: { id: string }) => id === "header")
    .fields.find(({ id }: { id: string }) => id === "sampling_period").scale.den = 10;
}

const one = compile(specification);
const two = compile(bent(second, specification));

function headerOf(layout: Layout, fingerprint = layout.fingerprint): Uint8Array {
  const values = { fingerprint, firmware_major: 1, firmware_minor: 2, sampling_period: 200, sensor_serial: 77 };
  const bytes = encode(recordOf(layout, "header"), values);
  if (!(bytes instanceof Uint8Array)) throw new Error("the header of the test does not encode");
  return bytes;
}

describe("identifyHeader", () => {
  it("finds the layout among those known, wherever it stands in the list", () => {
    for (const layouts of [
      [one, two],
      [two, one],
    ]) {
      for (const layout of layouts) {
        const found = identifyHeader(layouts, headerOf(layout));
        expect(found).toMatchObject({ layout: { layout: layout.layout } });
      }
    }
  });

  it("reads the header with the record of the layout it found", () => {
    const found = identifyHeader([one, two], headerOf(two));
    if (!("header" in found)) throw new Error("not found");
    expect(rawOf(found.header, "sampling_period")).toBe(200);
    expect(found.header.record.fields.find(({ id }) => id === "sampling_period")!.den).toBe(10);
  });

  it("names a layout nobody here knows", () => {
    expect(identifyHeader([one], headerOf(two))).toEqual({
      code: "layout-unknown",
      byte: 0,
      bit: 0,
      path: "header.layout",
      expected: "layout 1",
      actual: "layout 2",
    });
  });

  it("names another specification under the same number", () => {
    expect(identifyHeader([one, two], headerOf(one, 0x0badcafe))).toEqual({
      code: "fingerprint-mismatch",
      byte: 2,
      bit: 0,
      path: "header.fingerprint",
      expected: one.fingerprint.toString(16).padStart(8, "0"),
      actual: "0badcafe",
    });
  });

  it("looks at the header only, from the place given", () => {
    const bytes = new Uint8Array(40).fill(0xa5);
    bytes.set(headerOf(one), 4);
    expect(identifyHeader([one], bytes, 4)).toMatchObject({ layout: { layout: 1 } });
  });

  it("names every layout it knows, each once", () => {
    const third = compile(bent((s) => layoutNumber(s, 3), specification));
    expect(identifyHeader([one, two, one], headerOf(third))).toMatchObject({
      code: "layout-unknown",
      expected: "layout 1 or 2",
      actual: "layout 3",
    });
  });

  it.each([
    ["record-empty", new Uint8Array(64), "a sealed record", "zeros only"],
    ["record-too-short", headerOf(one).subarray(0, 15), "16 bytes", "15 bytes"],
    ["record-too-short", new Uint8Array(0), "16 bytes", "0 bytes"],
    // Python's binascii.crc_hqx of fourteen bytes ffh with preset 504Ch.
    ["checksum-mismatch", new Uint8Array(64).fill(0xff), "0xd324", "0xffff"],
  ])("says %s as the present layout does", (code, bytes, expected, actual) => {
    expect(identifyHeader([one, two], bytes)).toMatchObject({ code, expected, actual });
  });
});
