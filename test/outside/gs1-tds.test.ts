/** EPC identity against the worked examples of the GS1 EPC Tag Data Standard. */
import { describe, expect, it } from "vitest";
import { parseEpc } from "../../protocol/epc/identity.ts";
import { storedCrc } from "../../protocol/epc/pc.ts";
import { encodeEpc } from "../../protocol/epc/uri.ts";

/**
 * Hex and tag URI: TDS 2.3, annex E. The pure identity URI is the tag URI without the filter (TDS 2.3, 12.3.3); the
 * annex prints some of them wrong. StoredCRC: computed by a separate program for StoredPC 3000h.
 */
const examples = [
  {
    hex: "3066C4409047E14000001A85",
    tagUri: "urn:epc:tag:sgtin-96:3.95060001343.05.6789",
    pureUri: "urn:epc:id:sgtin:95060001343.05.6789",
    fields: {
      scheme: "sgtin-96",
      filter: 3,
      companyPrefix: "95060001343",
      itemReference: "05",
      serial: "6789",
    },
    crc: 0xd93c,
  },
  {
    hex: "3066C4409047E140075BCD15",
    tagUri: "urn:epc:tag:sgtin-96:3.95060001343.05.123456789",
    pureUri: "urn:epc:id:sgtin:95060001343.05.123456789",
    fields: { scheme: "sgtin-96", serial: "123456789" },
    crc: 0x2927,
  },
  {
    hex: "3476451FD40000000000162E",
    tagUri: "urn:epc:tag:giai-96:3.9521141.5678",
    pureUri: "urn:epc:id:giai:9521141.5678",
    fields: { scheme: "giai-96", filter: 3, companyPrefix: "9521141", assetReference: "5678" },
    crc: 0x3dde,
  },
];

describe("worked examples of GS1 TDS 2.3", () => {
  it.each(examples)("$tagUri", ({ hex, tagUri, pureUri, fields, crc }) => {
    expect(parseEpc(hex)).toMatchObject({ ...fields, tagUri, pureUri });
    expect(encodeEpc(tagUri)).toBe(hex.toLowerCase());
    const words = Array.from({ length: 6 }, (_, i) => Number.parseInt(hex.slice(4 * i, 4 * i + 4), 16));
    expect(storedCrc(0x3000, words)).toBe(crc);
  });
});

/** Partition tables of TDS 2.3 (from memory, two rows read): company prefix bits and digits, reference bits and digits. */
const partitions = {
  "sgtin-96": [
    [40, 12, 4, 1],
    [37, 11, 7, 2],
    [34, 10, 10, 3],
    [30, 9, 14, 4],
    [27, 8, 17, 5],
    [24, 7, 20, 6],
    [20, 6, 24, 7],
  ],
  "grai-96": [
    [40, 12, 4, 0],
    [37, 11, 7, 1],
    [34, 10, 10, 2],
    [30, 9, 14, 3],
    [27, 8, 17, 4],
    [24, 7, 20, 5],
    [20, 6, 24, 6],
  ],
  "giai-96": [
    [40, 12, 42, null],
    [37, 11, 45, null],
    [34, 10, 48, null],
    [30, 9, 52, null],
    [27, 8, 55, null],
    [24, 7, 58, null],
    [20, 6, 62, null],
  ],
} as const;

const headers = { "sgtin-96": 0x30, "grai-96": 0x33, "giai-96": 0x34 } as const;

describe("partition tables of GS1 TDS 2.3", () => {
  const rows = (Object.keys(partitions) as (keyof typeof partitions)[]).flatMap((scheme) =>
    partitions[scheme].map((row, partition) => ({ scheme, partition, row })),
  );

  it.each(rows)("$scheme, partition $partition", ({ scheme, partition, row }) => {
    const [prefixBits, prefixDigits, referenceBits, referenceDigits] = row;
    const serialBits = scheme === "giai-96" ? 0 : 38;
    expect(14 + prefixBits + referenceBits + serialBits).toBe(96);

    // The highest value of every field, put together bit by bit from the table above.
    const filter = 5;
    const prefix = 10n ** BigInt(prefixDigits) - 1n;
    const reference = referenceDigits === null ? 2n ** BigInt(referenceBits) - 1n : 10n ** BigInt(referenceDigits) - 1n;
    const serial = serialBits ? 2n ** 38n - 1n : 0n;
    const bits = [
      headers[scheme].toString(2).padStart(8, "0"),
      filter.toString(2).padStart(3, "0"),
      partition.toString(2).padStart(3, "0"),
      prefix.toString(2).padStart(prefixBits, "0"),
      reference.toString(2).padStart(referenceBits, "0"),
      serialBits ? serial.toString(2).padStart(serialBits, "0") : "",
    ].join("");
    const hex = BigInt(`0b${bits}`).toString(16);
    const parts = [filter, prefix, referenceDigits === 0 ? "" : reference, ...(serialBits ? [serial] : [])];
    const tagUri = `urn:epc:tag:${scheme}:${parts.join(".")}`;

    expect(parseEpc(hex)).toMatchObject({ scheme, tagUri });
    expect(encodeEpc(tagUri)).toBe(hex);
  });
});
