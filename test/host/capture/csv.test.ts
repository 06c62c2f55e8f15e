import { describe, expect, it } from "vitest";
import { collect } from "./collect.ts";

const names =
  "record,kit_time_us,epc,pc,xpc,rssi_dbm,frequency_khz,result,bank,word,words,pressure_raw,temperature_cel";
const read = "read,1500000,30361f9404c0004000000007,3600,0200,-58.3,866300,done,user,8,deadbeef,,";
const ambient = "ambient,1000000,,,,,,,,,,12969600,22.5";
const expected = {
  kind: "read",
  kitTimeUs: 1_500_000,
  epc: "30361f9404c0004000000007",
  pc: 0x3600,
  xpc: 0x0200,
  rssiDbm: -58.3,
  frequencyKhz: 866_300,
  result: "done",
  bank: "user",
  word: 8,
  words: [0xdead, 0xbeef],
};

describe("a CSV capture", () => {
  it("gives reads and ambient rows", async () => {
    const { reports, counts, rejects, notices } = await collect([names, read, ambient, ""].join("\n"));
    expect(reports).toEqual([
      expected,
      { kind: "ambient", kitTimeUs: 1_000_000, pressureRaw: 12_969_600, temperatureC: 22.5 },
    ]);
    expect(counts).toMatchObject({ lines: 3, headers: 1, read: 1, ambient: 1 });
    expect([rejects, notices]).toEqual([[], []]);
  });

  it("takes a byte order mark, semicolons, quotes, CRLF and a column of its own", async () => {
    const text = `\uFEFF${names},site\r\n${read},"below; the knee"\r\n`;
    const semicolons = text.replaceAll(",", ";").replace("below; the", '""below""; the');
    expect((await collect(semicolons)).reports).toEqual([expected]);
  });

  it("takes columns in any order, without record and signal strength", async () => {
    const text =
      "words,word,bank,result,frequency_khz,xpc,pc,epc,kit_time_us\ndeadbeef,8,user,done,866300,0200,3600,30361f9404c0004000000007,1500000";
    expect((await collect(text)).reports).toEqual([{ ...expected, rssiDbm: null }]);
  });

  it("names a missing column once and counts every row", async () => {
    const text = [names.replace(",words", ""), ...Array(3).fill(read.replace(",deadbeef", ""))].join("\n");
    const { notices, rejects, counts } = await collect(text);
    expect(notices).toMatchObject([{ line: 1, reason: "column-missing" }]);
    expect(notices[0]!.sentence).toMatch(/^walk:1: words: /);
    expect(counts.rejected).toEqual({ "column-missing": 3 });
    expect(rejects.map(({ becauseOf }) => becauseOf)).toEqual([1, 1, 1]);
  });

  it("refuses a column that stands twice", async () => {
    const { notices, counts } = await collect([`${names},epc`, `${read},00`].join("\n"));
    expect(notices).toMatchObject([{ reason: "field-invalid" }]);
    expect(counts.rejected).toEqual({ "field-invalid": 1 });
  });

  it.each([
    [read.replace("deadbeef", "deadbee"), "hex-odd-length", "words"],
    [read.replace("1500000", "soon"), "field-invalid", "kit_time_us"],
    [read.replace("1500000", ""), "field-missing", "kit_time_us"],
    [read.replace("-58.3", "-58.3dBm"), "field-invalid", "rssi_dbm"],
    [read.replace("866300", "0x10"), "field-invalid", "frequency_khz"],
    [read.slice(0, 60), "field-missing", null],
    [`${read},1`, "field-invalid", null],
    ['read,"1500000,3036', "field-invalid", null],
    [ambient.replace("12969600", "1"), "value-out-of-range", "pressure_raw"],
  ])("refuses %j and goes on", async (row, reason, field) => {
    const { rejects, reports } = await collect(`${names}\n${row}\n${read}\n`);
    expect(rejects).toMatchObject([{ line: 2, reason, field }]);
    expect(Buffer.from(rejects[0]!.raw).toString()).toBe(`${row}\n`);
    expect(reports).toEqual([expected]);
  });

  it("says when an ambient row has no column for its pressure", async () => {
    const short = names.replace(",pressure_raw,temperature_cel", "");
    const { rejects } = await collect(`${short}\nambient,1000000,,,,,,,,,\n`);
    expect(rejects).toMatchObject([{ reason: "column-missing", field: "pressure_raw" }]);
  });
});
