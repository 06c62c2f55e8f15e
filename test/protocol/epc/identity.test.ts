import { describe, expect, it } from "vitest";
import { isFault } from "../../../protocol/codec/encode.ts";
import { parseEpc } from "../../../protocol/epc/identity.ts";

/** Hex of 96 bits written as groups of `[value, width]`. */
function epcOf(...fields: [value: number | bigint, width: number][]): string {
  const bits = fields.map(([value, width]) => BigInt(value).toString(2).padStart(width, "0")).join("");
  expect(bits).toHaveLength(96);
  return BigInt(`0b${bits}`).toString(16).padStart(24, "0");
}

const sgtin = epcOf([0x30, 8], [1, 3], [5, 3], [12_345, 24], [7, 20], [42, 38]);

describe("parseEpc", () => {
  it("keeps leading zeros of prefix and reference, and none of the serial", () => {
    expect(parseEpc(sgtin)).toEqual({
      scheme: "sgtin-96",
      filter: 1,
      companyPrefix: "0012345",
      itemReference: "000007",
      serial: "42",
      tagUri: "urn:epc:tag:sgtin-96:1.0012345.000007.42",
      pureUri: "urn:epc:id:sgtin:0012345.000007.42",
    });
  });

  it("leaves the asset type empty behind a company prefix of 12 digits", () => {
    expect(parseEpc(epcOf([0x33, 8], [0, 3], [0, 3], [123_456_789_012, 40], [0, 4], [0, 38]))).toEqual({
      scheme: "grai-96",
      filter: 0,
      companyPrefix: "123456789012",
      assetType: "",
      serial: "0",
      tagUri: "urn:epc:tag:grai-96:0.123456789012..0",
      pureUri: "urn:epc:id:grai:123456789012..0",
    });
  });

  it("gives the asset reference of a GIAI without padding, up to its 62 bits", () => {
    expect(parseEpc(epcOf([0x34, 8], [7, 3], [6, 3], [1, 20], [2n ** 62n - 1n, 62]))).toEqual({
      scheme: "giai-96",
      filter: 7,
      companyPrefix: "000001",
      assetReference: "4611686018427387903",
      tagUri: "urn:epc:tag:giai-96:7.000001.4611686018427387903",
      pureUri: "urn:epc:id:giai:000001.4611686018427387903",
    });
  });

  it("takes hex as memory is printed, in words and upper case", () => {
    const words = sgtin.toUpperCase().match(/.{4}/g)!.join(" ");
    expect(parseEpc(words)).toEqual(parseEpc(sgtin));
  });
});

const faults = [
  {
    name: "a character that is no hex digit",
    hex: `${sgtin.slice(0, 9)}z${sgtin.slice(10)}`,
    fault: { code: "hex-bad-digit", byte: 9, bit: null, path: "epc", actual: "z" },
  },
  {
    name: "an odd number of digits",
    hex: sgtin.slice(0, 23),
    fault: { code: "hex-odd-length", byte: 22, bit: null, path: "epc", actual: "23 digits" },
  },
  {
    name: "nothing",
    hex: "",
    fault: { code: "epc-length-invalid", byte: 0, bit: null, path: "epc", expected: "12 bytes", actual: "0 bytes" },
  },
  {
    name: "eleven bytes",
    hex: sgtin.slice(0, 22),
    fault: { code: "epc-length-invalid", byte: 11, bit: null, path: "epc", expected: "12 bytes", actual: "11 bytes" },
  },
  {
    name: "thirteen bytes",
    hex: `${sgtin}00`,
    fault: { code: "epc-length-invalid", byte: 12, bit: null, path: "epc", expected: "12 bytes", actual: "13 bytes" },
  },
  {
    // SSCC-96 by GS1 TDS, from memory: a scheme of the standard that is not one of ours.
    name: "another scheme",
    hex: `31${sgtin.slice(2)}`,
    fault: { code: "epc-header-unknown", byte: 0, bit: 7, path: "epc.header", expected: "30, 33, 34", actual: "31" },
  },
  {
    name: "another scheme of another length",
    hex: "e200",
    fault: { code: "epc-header-unknown", byte: 0, bit: 7, path: "epc.header", expected: "30, 33, 34", actual: "e2" },
  },
  {
    name: "partition 7",
    hex: epcOf([0x34, 8], [0, 3], [7, 3], [0, 82]),
    fault: {
      code: "epc-partition-invalid",
      byte: 1,
      bit: 4,
      path: "giai_96.partition",
      expected: "0 to 6",
      actual: "7",
    },
  },
  {
    name: "a company prefix of too many digits",
    hex: epcOf([0x30, 8], [0, 3], [5, 3], [10_000_000, 24], [0, 20], [0, 38]),
    fault: {
      code: "epc-field-too-large",
      byte: 1,
      bit: 1,
      path: "sgtin_96.company_prefix",
      expected: "at most 7 digits",
      actual: "10000000",
    },
  },
  {
    name: "an item reference of too many digits",
    hex: epcOf([0x30, 8], [0, 3], [5, 3], [0, 24], [1_000_000, 20], [0, 38]),
    fault: {
      code: "epc-field-too-large",
      byte: 4,
      bit: 1,
      path: "sgtin_96.item_reference",
      expected: "at most 6 digits",
      actual: "1000000",
    },
  },
  {
    name: "an asset type where there is none",
    hex: epcOf([0x33, 8], [0, 3], [0, 3], [0, 40], [1, 4], [0, 38]),
    fault: {
      code: "epc-field-too-large",
      byte: 6,
      bit: 1,
      path: "grai_96.asset_type",
      expected: "at most 0 digits",
      actual: "1",
    },
  },
  {
    name: "a company prefix of a GIAI with too many digits",
    hex: epcOf([0x34, 8], [0, 3], [6, 3], [1_000_000, 20], [0, 62]),
    fault: {
      code: "epc-field-too-large",
      byte: 1,
      bit: 1,
      path: "giai_96.company_prefix",
      expected: "at most 6 digits",
      actual: "1000000",
    },
  },
] as const;

describe("parseEpc rejects", () => {
  it.each(faults)("$name", ({ hex, fault }) => {
    const answer = parseEpc(hex);
    expect(isFault(answer)).toBe(true);
    expect(answer).toMatchObject(fault);
  });

  it("only that: one less and each of them is an EPC", () => {
    expect(parseEpc(epcOf([0x30, 8], [0, 3], [5, 3], [9_999_999, 24], [999_999, 20], [0, 38]))).toMatchObject({
      companyPrefix: "9999999",
      itemReference: "999999",
    });
    expect(parseEpc(epcOf([0x34, 8], [0, 3], [6, 3], [999_999, 20], [0, 62]))).toMatchObject({
      companyPrefix: "999999",
      assetReference: "0",
    });
  });
});
