import { describe, expect, it } from "vitest";
import { parseHex } from "../../../protocol/bytes/hex.ts";
import { explain } from "../../../protocol/codec/explain.ts";
import { compile, recordOf } from "../../../protocol/model/layout.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";

const layout = compile(specification);
const bytesOf = (hex: string) => parseHex(hex) as Uint8Array;
const explained = (record: string, hex: string) => explain(recordOf(layout, record), bytesOf(hex));
const rows = (record: string, hex: string) =>
  explained(record, hex).fields.map(({ field, byte, hex: container, raw, meaning, reason }) =>
    [field.id, byte, container, raw, meaning, reason].join(" "),
  );

describe("explain", () => {
  // The frame of decode.test.ts, put together by hand.
  it("maps every byte of a good frame", () => {
    const hex = "2101 0102 00c5 e680 0e44 7080 04d2 33d1";
    expect(rows("frame", hex)).toEqual([
      "kind 0 2101 2 kind 2 ",
      "layout 0 2101 1 layout 1 ",
      "status 0 2101 1 first_after_cold_start ",
      "sequence 2 0102 258 258 ",
      "reserved 4 00c5e680 0 zero ",
      "pressure 4 00c5e680 12969600 101325 Pa ",
      "temperature 8 0e44 3652 36.52 Cel ",
      "supply 10 708004d2 1800 1.8 V ",
      "uptime 10 708004d2 1234 123.4 s ",
      "seal 14 33d1 13265 0x33d1 ",
    ]);
    expect(explained("frame", hex)).toMatchObject({ missing: [], fault: null });
  });

  it("goes on behind a fault and names each field's own", () => {
    expect(rows("frame", "3201 0102 40c5 e680 f05f 7080 04d2 0000")).toEqual([
      "kind 0 3201 3 not 2 kind-unexpected",
      "layout 0 3201 2 not 1 layout-unknown",
      "status 0 3201 1 first_after_cold_start ",
      "sequence 2 0102 258 258 ",
      "reserved 4 40c5e680 64 not zero reserved-bit-set",
      "pressure 4 40c5e680 12969600 101325 Pa ",
      "temperature 8 f05f -4001 -40.01 Cel value-out-of-range",
      "supply 10 708004d2 1800 1.8 V ",
      "uptime 10 708004d2 1234 123.4 s ",
      "seal 14 0000 0 0x0000 checksum-mismatch",
    ]);
    expect(explained("frame", "3201 0102 40c5 e680 f05f 7080 04d2 0000").fault).toMatchObject({
      code: "checksum-mismatch",
      actual: "0x0000",
    });
  });

  it("shows the fields that arrived of a short frame, and which did not", () => {
    const short = explained("frame", "2101 0102 00c5 e680 0e44 70");
    expect(short.fields.map(({ field }) => field.id)).toEqual([
      "kind",
      "layout",
      "status",
      "sequence",
      "reserved",
      "pressure",
      "temperature",
    ]);
    expect(short.fields.every(({ reason }) => reason === null)).toBe(true);
    expect(short.missing).toEqual(["supply", "uptime", "seal"]);
    expect(short.fault).toMatchObject({ code: "record-too-short", expected: "16 bytes", actual: "11 bytes" });
  });

  it("shows every field of a frame that is too long or was never written", () => {
    expect(explained("frame", `${"00".repeat(16)}`)).toMatchObject({ missing: [], fault: { code: "record-empty" } });
    const long = explained("frame", "2101 0102 00c5 e680 0e44 7080 04d2 33d1 00");
    expect(long).toMatchObject({ missing: [], fault: { code: "trailing-bytes", byte: 16 } });
    expect(long.fields).toHaveLength(10);
  });

  it("names sentinels, and flags in their order", () => {
    expect(rows("frame", "2185 ffff 00ff ffff 8000 ffff ffff deba").slice(2, 9)).toEqual([
      "status 0 2185 133 first_after_cold_start | sensor_fault | burst_ready ",
      "sequence 2 ffff 65535 65535 ",
      "reserved 4 00ffffff 0 zero ",
      "pressure 4 00ffffff 16777215 not_measured ",
      "temperature 8 8000 -32768 not_measured ",
      "supply 10 ffffffff 4095 not_measured ",
      "uptime 10 ffffffff 1048575 saturated ",
    ]);
  });

  it("says none where no flag is set, and that a fixed value is as it must be", () => {
    expect(rows("frame", "2100 0005 00c5 e680 0e44 7080 04d2 5c7a")[2]).toBe("status 0 2100 0 none ");
    const header = rows("header", "0011 fdb984ec 0102 03e8 00000007 c61a");
    expect(header.slice(0, 3)).toEqual([
      "dsfid 0 0011 0 as it must be ",
      "kind 0 0011 1 kind 1 ",
      "layout 0 0011 1 layout 1 ",
    ]);
  });

  it("names enumerations and what is outside them", () => {
    expect(rows("read", "00000000 03 0008 10 00")[1]).toBe("bank 4 03 3 user ");
    expect(rows("read", "00000000 09 0008 10 00")[1]).toBe("bank 4 09 9 unknown name-unknown");
  });

  it("counts bytes from the start of the array, wherever the record begins in it", () => {
    const bytes = bytesOf("ffff 2101 0102 00c5 e680 0e44 7080 04d2 33d1 ff");
    const inside = explain(recordOf(layout, "frame"), bytes, 2, 18);
    expect(inside.fault).toBeNull();
    expect(inside.fields.map(({ byte }) => byte)).toEqual([2, 2, 2, 4, 6, 6, 10, 12, 12, 16]);
    expect(inside.fields[5]).toMatchObject({ hex: "00c5e680", meaning: "101325 Pa" });
    const short = explain(recordOf(layout, "frame"), bytes, 2, 13);
    expect(short.missing).toEqual(["supply", "uptime", "seal"]);
  });
});
