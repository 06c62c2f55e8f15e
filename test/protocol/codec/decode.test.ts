import { describe, expect, it } from "vitest";
import { parseHex } from "../../../protocol/bytes/hex.ts";
import { makeDecoder, WHOLE } from "../../../protocol/codec/decode.ts";
import { isFault } from "../../../protocol/codec/encode.ts";
import { decode, flagsOf, nameOf, physicalOf, rawOf } from "../../../protocol/codec/record.ts";
import { compile, recordOf } from "../../../protocol/model/layout.ts";
import { reasons, sentence } from "../../../protocol/model/reasons.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";

const layout = compile(specification);
const frame = recordOf(layout, "frame");
function bytesOf(hex: string): Uint8Array {
  const bytes = parseHex(hex);
  if (!(bytes instanceof Uint8Array)) throw new Error(`${hex}: ${bytes.code}`);
  return bytes;
}

/**
 * Put together by hand from the memory map; the last word is Python's `binascii.crc_hqx(first 14 bytes, 0x504c)`, the
 * same polynomial in another hand.
 * 2101 kind, layout, first after cold start · 0102 sequence · 00 c5e680 pressure 101 325 Pa · 0e44 36.52 °C ·
 * 708 1.800 V, 004d2 123.4 s · 33d1 seal.
 */
const good = "2101 0102 00c5 e680 0e44 7080 04d2 33d1";

function decoded(hex: string) {
  const answer = decode(frame, bytesOf(hex));
  if (isFault(answer)) throw new Error(sentence(answer));
  return answer;
}

describe("a frame worked by hand", () => {
  it("gives its raw integers", () => {
    expect(Array.from(decoded(good).raws)).toEqual([2, 1, 1, 258, 0, 12_969_600, 3652, 1800, 1234, 0x33d1]);
  });

  it("gives its values in their units", () => {
    const record = decoded(good);
    expect(physicalOf(record, "pressure")).toBe(101_325);
    expect(physicalOf(record, "temperature")).toBe(36.52);
    expect(physicalOf(record, "supply")).toBe(1.8);
    expect(physicalOf(record, "uptime")).toBe(123.4);
    expect(flagsOf(record, "status")).toEqual(["first_after_cold_start"]);
    expect(rawOf(record, "sequence")).toBe(258);
  });

  it("says nothing where the sensor said nothing", () => {
    const record = decoded("2185 ffff 00ff ffff 8000 ffff ffff deba");
    expect(physicalOf(record, "pressure")).toBeNull();
    expect(physicalOf(record, "temperature")).toBeNull();
    expect(physicalOf(record, "supply")).toBeNull();
    expect(physicalOf(record, "uptime")).toBe(104_857.4);
    expect(flagsOf(record, "status")).toEqual(["first_after_cold_start", "sensor_fault", "burst_ready"]);
  });

  it("has no flags in a number, and no name for one", () => {
    expect(flagsOf(decoded(good), "layout")).toEqual([]);
    expect(nameOf(decoded(good), "sequence")).toBe("258");
    const plan = { record: recordOf(layout, "set_channel_plan"), raws: [9], tails: {} };
    expect(nameOf(plan, "plan")).toBe("9");
  });

  it("reads its first field by name", () => {
    expect(rawOf(decoded(good), "kind")).toBe(2);
    expect(physicalOf(decoded(good), "kind")).toBe(2);
  });

  it("refuses a field the record does not have", () => {
    expect(() => rawOf(decoded(good), "humidity")).toThrow("frame has no field humidity");
    expect(() => physicalOf(decoded(good), "humidity")).toThrow("frame has no field humidity");
  });
});

describe("a header worked by hand", () => {
  // Seal by Python as above; fingerprint chosen with its top bit set, as no signed number could hold it.
  it("keeps 32 bits unsigned", () => {
    const header = recordOf(layout, "header");
    const answer = decode(header, bytesOf("0011 fdb984ec 0102 03e8 00000007 c61a"));
    expect(isFault(answer) ? answer : Array.from(answer.raws)).toEqual([0, 1, 1, 0xfdb984ec, 1, 2, 1000, 7, 0xc61a]);
  });
});

describe("a header of another kind or layout with another first octet", () => {
  it("is called another kind, though the octet stands before it", () => {
    const header = recordOf(layout, "header");
    expect(decode({ ...header }, bytesOf("0121 fdb984ec 0102 03e8 00000007 86a7"))).toMatchObject({
      code: "kind-unexpected",
      path: "header.kind",
      expected: "1",
      actual: "2",
    });
  });

  it("is called another layout, though the octet stands before it", () => {
    const header = recordOf(layout, "header");
    expect(decode({ ...header }, bytesOf("0113 fdb984ec 0102 03e8 00000007 37bd"))).toMatchObject({
      code: "layout-unknown",
      path: "header.layout",
      expected: "1",
      actual: "3",
    });
  });

  it("is a header with another first octet, when that is all", () => {
    const header = recordOf(layout, "header");
    expect(decode({ ...header }, bytesOf("0111 fdb984ec 0102 03e8 00000007 bd7b"))).toMatchObject({
      code: "marker-mismatch",
      path: "header.dsfid",
      byte: 0,
      bit: 8,
      expected: "0",
      actual: "1",
    });
  });
});

/** Every one is the good frame with one thing wrong; where the seal still fits it was made to, by Python as above. */
const faults = [
  {
    name: "a byte short",
    hex: good.slice(0, -2),
    fault: { code: "record-too-short", byte: 15, bit: null, path: "frame", expected: "16 bytes", actual: "15 bytes" },
  },
  {
    name: "nothing at all",
    hex: "",
    fault: { code: "record-too-short", byte: 0, bit: null, path: "frame", expected: "16 bytes", actual: "0 bytes" },
  },
  {
    name: "a byte too many",
    hex: `${good}00`,
    fault: { code: "trailing-bytes", byte: 16, bit: null, path: "frame", expected: "16 bytes", actual: "17 bytes" },
  },
  {
    name: "never written",
    hex: "00".repeat(16),
    fault: {
      code: "record-empty",
      byte: 0,
      bit: null,
      path: "frame",
      expected: "a sealed record",
      actual: "zeros only",
    },
  },
  {
    name: "erased to ones",
    hex: "ff".repeat(16),
    fault: { code: "checksum-mismatch", byte: 14, bit: 0, path: "frame.seal", actual: "0xffff" },
  },
  {
    name: "a bit of the seal wrong",
    hex: `${good.slice(0, -1)}3`,
    fault: {
      code: "checksum-mismatch",
      byte: 14,
      bit: 0,
      path: "frame.seal",
      expected: "0x33d1",
      actual: "0x33d3",
    },
  },
  {
    name: "a record of another kind",
    hex: "3101 0102 00c5 e680 0e44 7080 04d2 f526",
    fault: { code: "kind-unexpected", byte: 0, bit: 12, path: "frame.kind", expected: "2", actual: "3" },
  },
  {
    name: "another kind, another layout and a value out of range: the kind comes first",
    hex: "3201 0102 00c5 e680 f05f 7080 04d2 813f",
    fault: { code: "kind-unexpected", byte: 0, bit: 12, path: "frame.kind", expected: "2", actual: "3" },
  },
  {
    name: "written with another layout",
    hex: "2201 0102 00c5 e680 0e44 7080 04d2 be72",
    fault: { code: "layout-unknown", byte: 0, bit: 8, path: "frame.layout", expected: "1", actual: "2" },
  },
  {
    name: "a reserved bit set",
    hex: "2101 0102 40c5 e680 0e44 7080 04d2 41cb",
    fault: { code: "reserved-bit-set", byte: 4, bit: 30, path: "frame.reserved", expected: "0", actual: "64" },
  },
  {
    name: "a pressure just below the range",
    hex: "2101 0102 0032 c7ff 0e44 7080 04d2 a420",
    fault: {
      code: "value-out-of-range",
      byte: 4,
      bit: 0,
      path: "frame.pressure",
      expected: "3328000 to 16128000 or 16777215",
      actual: "3327999",
    },
  },
  {
    name: "a temperature just below the range",
    hex: "2101 0102 00c5 e680 f05f 7080 04d2 ca6b",
    fault: {
      code: "value-out-of-range",
      byte: 8,
      bit: 0,
      path: "frame.temperature",
      expected: "-4000 to 12500 or -32768",
      actual: "-4001",
    },
  },
] as const;

describe("decode rejects", () => {
  // A copy of the record has no decoder yet, so that each case builds its own.
  it.each(faults)("$name", ({ hex, fault }) => {
    expect(decode({ ...frame }, bytesOf(hex))).toMatchObject(fault);
  });

  it("a span that begins behind the end, without a negative count", () => {
    expect(decode(frame, bytesOf(good), 20, 16)).toMatchObject({
      code: "record-too-short",
      byte: 0,
      actual: "0 bytes",
    });
  });

  it("with the reason's number and the field's index in the verdict", () => {
    const plain = makeDecoder(frame);
    const verdict = (hex: string) => {
      const bytes = bytesOf(hex);
      return plain(bytes, 0, bytes.length, new Float64Array(frame.fields.length));
    };
    expect(verdict(good)).toBe(0);
    expect(verdict(good.slice(0, 12))).toBe(reasons["record-too-short"].number * 256 + WHOLE);
    expect(verdict("2101 0102 00c5 e680 f05f 7080 04d2 ca6b")).toBe(reasons["value-out-of-range"].number * 256 + 6);
  });
});

describe("records with tails", () => {
  const read = recordOf(layout, "read");

  it("reads as many elements as the count says", () => {
    const answer = decode(read, bytesOf("00000000 03 0008 10 02 3034 257b"));
    expect(isFault(answer) ? answer : answer.tails).toEqual({ epc: [0x3034, 0x257b] });
    if (!isFault(answer)) expect(nameOf(answer, "bank")).toBe("user");
  });

  it("reads a second tail behind the first, each element without a sign", () => {
    const write = recordOf(layout, "write");
    const answer = decode({ ...write }, bytesOf("00000000 03 0008 02 03 3034 257b f7c9 cafe 0001"));
    expect(isFault(answer) ? answer : answer.tails).toEqual({ epc: [0x3034, 0x257b, 0xf7c9], words: [0xcafe, 1] });
  });

  it("counts a fault's bytes from the record's start, wherever it begins", () => {
    expect(decode(read, bytesOf("ffff 00000000 03 0008 10 02 3034"), 2)).toMatchObject({
      code: "count-mismatch",
      byte: 8,
      expected: "13 bytes",
      actual: "11 bytes",
    });
  });

  it.each([
    ["one element short", "00000000 03 0008 10 02 3034", "11 bytes"],
    ["half an element too many", "00000000 03 0008 10 02 3034 257b f7", "14 bytes"],
  ])("%s", (_, hex, actual) => {
    expect(decode(read, bytesOf(hex))).toEqual({
      code: "count-mismatch",
      byte: 8,
      bit: 0,
      path: "read.epc_words",
      expected: "13 bytes",
      actual,
    });
  });

  it("names a bank outside the list", () => {
    expect(decode(read, bytesOf("00000000 04 0008 10 00"))).toMatchObject({
      code: "name-unknown",
      byte: 4,
      path: "read.bank",
      expected: "0, 1, 2, 3",
      actual: "4",
    });
  });
});

describe("flags outside the list", () => {
  it("names the lowest of them by its bit", () => {
    const welcome = recordOf(layout, "welcome");
    const answer = decode(welcome, bytesOf("01 04 1041 03e8 0bb8 000c 0000000000000001"));
    expect(answer).toMatchObject({
      code: "reserved-bit-set",
      byte: 2,
      bit: 6,
      path: "welcome.capabilities.bit_6",
      expected: "only bits of 0x003f",
      actual: "0x1041",
    });
  });
});
