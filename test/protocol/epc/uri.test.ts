import { describe, expect, it } from "vitest";
import { encodeEpc } from "../../../protocol/epc/uri.ts";

describe("encodeEpc", () => {
  it("writes an empty asset type as four zero bits", () => {
    const bits = [
      (0x33).toString(2).padStart(8, "0"),
      "010",
      "000",
      (123_456_789_012).toString(2).padStart(40, "0"),
      "0000",
      (17).toString(2).padStart(38, "0"),
    ].join("");
    expect(encodeEpc("urn:epc:tag:grai-96:2.123456789012..17")).toBe(BigInt(`0b${bits}`).toString(16));
  });
});

/** `at`: the text that stands where the fault is; empty: the fault is at the end. */
const faults = [
  { uri: "", code: "epc-field-malformed", path: "epc.uri", at: "" },
  { uri: "urn:epc:id:sgtin:0012345.000007.42", code: "epc-field-malformed", path: "epc.uri", at: "urn" },
  { uri: "urn:epc:tag:sscc-96:3.0614141.1234567890", code: "epc-header-unknown", path: "epc.scheme", at: "sscc" },
  { uri: "urn:epc:tag:", code: "epc-header-unknown", path: "epc.scheme", at: "" },
  {
    uri: "urn:epc:tag:[umi=1]:sgtin-96:1.0012345.000007.42",
    code: "epc-header-unknown",
    path: "epc.scheme",
    at: "[umi",
  },
  { uri: "urn:epc:tag:sgtin-96", code: "epc-field-malformed", path: "sgtin_96.uri", at: "" },
  { uri: "urn:epc:tag:sgtin-96:1.0012345.000007", code: "epc-field-malformed", path: "sgtin_96.uri", at: "1.00" },
  { uri: "urn:epc:tag:giai-96:1.0012345.7.42", code: "epc-field-malformed", path: "giai_96.uri", at: "1.00" },
  { uri: "urn:epc:tag:sgtin-96:.0012345.000007.42", code: "epc-field-malformed", path: "sgtin_96.filter", at: ".001" },
  { uri: "urn:epc:tag:sgtin-96:01.0012345.000007.42", code: "epc-field-malformed", path: "sgtin_96.filter", at: "01." },
  { uri: "urn:epc:tag:sgtin-96:8.0012345.000007.42", code: "epc-field-too-large", path: "sgtin_96.filter", at: "8." },
  {
    uri: "urn:epc:tag:sgtin-96:1.00x2345.000007.42",
    code: "epc-field-malformed",
    path: "sgtin_96.company_prefix",
    at: "x",
  },
  {
    uri: "urn:epc:tag:sgtin-96:1.12345.00000007.42",
    code: "epc-field-malformed",
    path: "sgtin_96.company_prefix",
    at: "12345",
  },
  {
    uri: "urn:epc:tag:sgtin-96:1.1234567890123..42",
    code: "epc-field-malformed",
    path: "sgtin_96.company_prefix",
    at: "12345",
  },
  {
    uri: "urn:epc:tag:sgtin-96:1.0012345.00007.42",
    code: "epc-field-malformed",
    path: "sgtin_96.item_reference",
    at: "00007",
  },
  {
    uri: "urn:epc:tag:grai-96:1.0012345.000007.42",
    code: "epc-field-malformed",
    path: "grai_96.asset_type",
    at: "000007",
  },
  { uri: "urn:epc:tag:sgtin-96:1.0012345.000007.", code: "epc-field-malformed", path: "sgtin_96.serial", at: "" },
  { uri: "urn:epc:tag:sgtin-96:1.0012345.000007.042", code: "epc-field-malformed", path: "sgtin_96.serial", at: "042" },
  { uri: "urn:epc:tag:sgtin-96:1.0012345.000007.-42", code: "epc-field-malformed", path: "sgtin_96.serial", at: "-42" },
  {
    uri: "urn:epc:tag:sgtin-96:1.0012345.000007.274877906944",
    code: "epc-field-too-large",
    path: "sgtin_96.serial",
    at: "2748",
  },
  {
    uri: "urn:epc:tag:giai-96:1.123456789012.4398046511104",
    code: "epc-field-too-large",
    path: "giai_96.asset_reference",
    at: "4398",
  },
  {
    uri: `urn:epc:tag:giai-96:1.000001.${"9".repeat(4000)}`,
    code: "epc-field-too-large",
    path: "giai_96.asset_reference",
    at: "99",
  },
] as const;

describe("encodeEpc rejects", () => {
  it.each(faults)("$uri", ({ uri, code, path, at }) => {
    const byte = at === "" ? uri.length : uri.indexOf(at);
    expect(encodeEpc(uri)).toMatchObject({ code, path, bit: null, byte });
  });

  it("never shows more of a text than a line holds", () => {
    const answer = encodeEpc(`urn:epc:tag:giai-96:1.000001.${"9".repeat(4000)}`);
    expect((answer as { actual: string }).actual.length).toBeLessThanOrEqual(61);
  });

  it("only that: the highest serial and the highest asset reference are encoded", () => {
    expect(encodeEpc("urn:epc:tag:sgtin-96:1.0012345.000004.274877906943")).toMatch(/3fffffffff$/);
    expect(encodeEpc("urn:epc:tag:giai-96:1.123456789012.4398046511103")).toMatch(/3ffffffffff$/);
  });
});

/** What a person needs to mend the text, by the grammar of GS1 TDS: what belongs there, and what stands there. */
const told = [
  ["urn:epc:id:sgtin:1", "epc.uri", "urn:epc:tag:…", "urn:epc:id:sgtin:1"],
  ["urn:epc:tag:sscc-96:1.2", "epc.scheme", "sgtin-96, grai-96, giai-96", "sscc-96"],
  ["urn:epc:tag::1.2", "epc.scheme", "sgtin-96, grai-96, giai-96", ""],
  [
    "urn:epc:tag:sgtin-96:1.0012345.000007",
    "sgtin_96.uri",
    "4 parts: filter.company_prefix.item_reference.serial",
    "3 parts",
  ],
  ["urn:epc:tag:giai-96:1", "giai_96.uri", "3 parts: filter.company_prefix.asset_reference", "1 parts"],
  ["urn:epc:tag:sgtin-96:x.0012345.000007.42", "sgtin_96.filter", "a digit", "x"],
  ["urn:epc:tag:sgtin-96:11.0012345.000007.42", "sgtin_96.filter", "1 digits", "2 digits"],
  ["urn:epc:tag:sgtin-96:1.12345.000007.42", "sgtin_96.company_prefix", "6 to 12 digits", "5 digits"],
  ["urn:epc:tag:sgtin-96:1.0012345.000007.042", "sgtin_96.serial", "no leading zero", "042"],
  ["urn:epc:tag:sgtin-96:1.0012345.000007.274877906944", "sgtin_96.serial", "at most 274877906943", "274877906944"],
  [
    `urn:epc:tag:giai-96:1.000001.${"9".repeat(61)}`,
    "giai_96.asset_reference",
    // 62 bits: 96 less 8 of header, 3 of filter, 3 of partition and 20 of the shortest prefix.
    "at most 4611686018427387903",
    `${"9".repeat(60)}…`,
  ],
  [
    `urn:epc:tag:giai-96:1.000001.${"9".repeat(60)}`,
    "giai_96.asset_reference",
    "at most 4611686018427387903",
    "9".repeat(60),
  ],
] as const;

describe("encodeEpc tells what belongs there", () => {
  it.each(told)("%s", (uri, path, expected, actual) => {
    expect(encodeEpc(uri)).toMatchObject({ path, expected, actual });
  });
});
