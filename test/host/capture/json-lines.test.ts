import { readFileSync } from "node:fs";
import Ajv2020 from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { describe, expect, it } from "vitest";
import { collect, good, jsonLine } from "./collect.ts";

const schema = JSON.parse(
  readFileSync(new URL("../../../vectors/schema/capture.schema.json", import.meta.url), "utf8"),
) as object;
const ajv = new Ajv2020.default({ strict: true, allowUnionTypes: true });
addFormats.default(ajv);
const valid = ajv.compile(schema);

describe("a good capture", () => {
  it("gives header and reports with the values written in it", async () => {
    const text = jsonLine("capture", { note: "an invented leg" }) + jsonLine("ambient") + jsonLine("read");
    const { headers, reports, counts, rejects, notices } = await collect(text);
    expect(headers).toEqual([
      {
        version: 1,
        layout: 1,
        fingerprint: Number.parseInt(good.capture.fingerprint, 16),
        started: "2026-03-04T09:00:00.000Z",
        source: "invented",
        barometerUncertaintyPa: 12,
        note: "an invented leg",
      },
    ]);
    expect(reports).toEqual([
      { kind: "ambient", kitTimeUs: 1_000_000, pressureRaw: 12_969_600, temperatureC: 22.5 },
      {
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
        words: [0xdead, 0xbeef, 0x0001],
      },
    ]);
    expect(counts).toMatchObject({ lines: 3, headers: 1, read: 1, ambient: 1, blank: 0, rejected: {}, noticed: {} });
    expect(counts.bytes).toBe(Buffer.byteLength(text));
    expect([rejects, notices]).toEqual([[], []]);
  });

  it("takes a byte order mark, CRLF, blank lines and a last line without an end", async () => {
    const lines = [jsonLine("capture"), "\n", jsonLine("read"), jsonLine("ambient")].join("").replaceAll("\n", "\r\n");
    const { counts, rejects } = await collect(`\uFEFF${lines.trimEnd()}`);
    expect(counts).toMatchObject({ lines: 4, headers: 1, read: 1, ambient: 1, blank: 1 });
    expect(rejects).toEqual([]);
  });

  it("counts blank lines as lines, so that places stay right", async () => {
    const { rejects, counts } = await collect(`${jsonLine("capture")}\n\n17\n${jsonLine("read")}`);
    expect(rejects.map(({ line }) => line)).toEqual([4]);
    expect(counts).toMatchObject({ lines: 5, blank: 2 });
  });

  it("takes upper-case hex and gives the EPC in lower case", async () => {
    const { reports } = await collect(jsonLine("capture") + jsonLine("read", { epc: "30361F9404C0004000000007" }));
    expect(reports[0]).toMatchObject({ epc: "30361f9404c0004000000007" });
  });

  it("begins a new session at a second header", async () => {
    const text = jsonLine("capture") + jsonLine("read") + jsonLine("capture", { barometer_uncertainty_pa: null });
    const { headers } = await collect(text + jsonLine("read"));
    expect(headers.map(({ barometerUncertaintyPa }) => barometerUncertaintyPa)).toEqual([12, null]);
  });
});

type Case = [record: keyof typeof good, changes: Record<string, unknown>, reason: string, field: string, says: string];

const bad: Case[] = [
  ["read", { words: "deadbeef000" }, "hex-odd-length", "words", "11 digits"],
  ["read", { words: "deadbexf" }, "hex-bad-digit", "words", "character 7"],
  ["read", { words: "deadbe" }, "field-invalid", "words", "cut short"],
  ["read", { words: "0000".repeat(256) }, "value-out-of-range", "words", "256 words"],
  ["read", { words: 7 }, "field-invalid", "words", "no hex text"],
  ["read", { words: undefined }, "field-missing", "words", "nothing"],
  ["read", { epc: "3" }, "hex-odd-length", "epc", "1 digits"],
  ["read", { epc: "0000".repeat(32) }, "value-out-of-range", "epc", "32 words"],
  ["read", { pc: "36" }, "field-invalid", "pc", "cut short"],
  ["read", { pc: "" }, "field-invalid", "pc", "four hex digits"],
  ["read", { xpc: "zz00" }, "hex-bad-digit", "xpc", "character 1"],
  ["read", { kit_time_us: -1 }, "value-out-of-range", "kit_time_us", "-1"],
  ["read", { kit_time_us: 2 ** 48 }, "value-out-of-range", "kit_time_us", "281474976710656"],
  ["read", { kit_time_us: 1.5 }, "field-invalid", "kit_time_us", "no whole number"],
  ["read", { kit_time_us: "5" }, "field-invalid", "kit_time_us", "no number"],
  ["read", { rssi_dbm: 4000 }, "value-out-of-range", "rssi_dbm", "-3276.7 to 3276.7"],
  ["read", { rssi_dbm: -3276.8 }, "value-out-of-range", "rssi_dbm", "-3276.8"],
  ["read", { rssi_dbm: undefined }, "field-missing", "rssi_dbm", "nothing"],
  ["read", { frequency_khz: 2 ** 32 }, "value-out-of-range", "frequency_khz", "4294967296"],
  ["read", { frequency_khz: null }, "field-invalid", "frequency_khz", "null"],
  ["read", { result: "fine" }, "name-unknown", "result", "fine"],
  ["read", { bank: "users" }, "name-unknown", "bank", "users"],
  ["read", { word: 65_536 }, "value-out-of-range", "word", "65536"],
  ["ambient", { pressure_raw: 3_327_999 }, "value-out-of-range", "pressure_raw", "3328000 to 16128000"],
  ["ambient", { pressure_raw: 16_128_001 }, "value-out-of-range", "pressure_raw", "16128001"],
  ["ambient", { temperature_cel: 126 }, "value-out-of-range", "temperature_cel", "-40 to 125"],
  ["ambient", { temperature_cel: undefined }, "field-missing", "temperature_cel", "nothing"],
  ["ambient", { record: "weather" }, "name-unknown", "record", "weather"],
  ["ambient", { record: undefined }, "field-missing", "record", "nothing"],
];

describe("a bad record", () => {
  it.each(bad)("%s %j is %s", async (record, changes, reason, field, says) => {
    const wrong = jsonLine(record, changes);
    const { rejects, reports, counts } = await collect(jsonLine("capture") + wrong + jsonLine("read"));
    expect(rejects).toHaveLength(1);
    expect(rejects[0]).toMatchObject({ line: 2, reason, field, becauseOf: null });
    expect(rejects[0]!.sentence).toMatch(new RegExp(`^walk:2: ${field}: .*\\[${reason}\\]$`));
    expect(rejects[0]!.sentence).toContain(says);
    expect(Buffer.from(rejects[0]!.raw).toString()).toBe(wrong);
    expect(reports).toHaveLength(1);
    expect(counts.rejected).toEqual({ [reason]: 1 });
    expect(valid(JSON.parse(wrong))).toBe(false);
  });

  it("agrees with the schema on good records", () => {
    for (const record of ["capture", "read", "ambient"] as const) {
      expect(valid(JSON.parse(jsonLine(record)))).toBe(true);
    }
    expect(valid(JSON.parse(jsonLine("read", { rssi_dbm: null, words: "", result: "tag_lost" })))).toBe(true);
  });

  it.each([
    ["{", "cut short"],
    ["[1]", "an array"],
    ["null", "null"],
    ["17", "a number"],
    ['{"record":"read",', "half a record"],
    ["\u0007\u0001\u007f\u009brubbish", "control characters"],
    ['{"reason":"x","field":null,"found":"y"}', "an object with members of the reader's own"],
  ])("%j is refused (%s) and the rest goes on", async (wrong) => {
    const { rejects, reports } = await collect(`${jsonLine("capture")}${wrong}\n${jsonLine("read")}`);
    expect(rejects).toHaveLength(1);
    expect(["json-invalid", "field-missing"]).toContain(rejects[0]!.reason);
    expect(rejects[0]!.sentence.split("\n")).toHaveLength(1);
    expect(rejects[0]!.sentence).not.toMatch(/\p{Cc}/u);
    expect(reports).toHaveLength(1);
  });

  it("bytes that are no UTF-8 come back byte for byte", async () => {
    const rubbish = Uint8Array.of(0xff, 0xfe, 0x00, 0xc3, 0x28, 0x0a);
    const { rejects, reports } = await collect(
      Buffer.concat([Buffer.from(jsonLine("capture")), rubbish, Buffer.from(jsonLine("read"))]),
    );
    expect(rejects.map(({ reason, line }) => [reason, line])).toEqual([["json-invalid", 2]]);
    expect([...rejects[0]!.raw]).toEqual([...rubbish]);
    expect(reports).toHaveLength(1);
  });

  it("an over-long line is one reject, given back in pieces of at most 64 kB", async () => {
    const long = `{"record":"read","words":"${"0".repeat(200_000)}"}\n`;
    const { rejects, more, reports, counts } = await collect(jsonLine("capture") + long + jsonLine("read"));
    expect(rejects.map(({ reason, line }) => [reason, line])).toEqual([["line-too-long", 2]]);
    expect(Buffer.concat([rejects[0]!.raw, ...more]).toString()).toBe(long);
    expect(Math.max(...[rejects[0]!.raw, ...more].map(({ length }) => length))).toBeLessThanOrEqual(65_536);
    expect(reports).toHaveLength(1);
    expect(counts.lines).toBe(3);
  });

  it("a line of exactly the limit is no over-long one", async () => {
    const fill = 65_536 - jsonLine("read", { note: "" }).length;
    const [fits, over] = [fill, fill + 1].map((n) => jsonLine("capture") + jsonLine("read", { note: "x".repeat(n) }));
    expect((await collect(fits!)).counts).toMatchObject({ read: 1, rejected: {} });
    expect((await collect(over!)).counts).toMatchObject({ read: 0, rejected: { "line-too-long": 1 } });
  });
});

describe("the header", () => {
  it.each([
    [{ started: "2026-02-30T09:00:00Z" }, "started"],
    [{ started: "2026-03-04T09:00:00+01:00" }, "started"],
    [{ fingerprint: "db984e" }, "fingerprint"],
    [{ layout: "1" }, "layout"],
    [{ source: 1 }, "source"],
    [{ barometer_uncertainty_pa: -1 }, "barometer_uncertainty_pa"],
    [{ note: 1 }, "note"],
    [{ version: "1" }, "version"],
  ])("%j is refused, the records are still read", async (changes, field) => {
    const { rejects, notices, reports } = await collect(jsonLine("capture", changes) + jsonLine("read"));
    expect(rejects).toMatchObject([{ line: 1, reason: "field-invalid", field }]);
    expect([notices.length, reports.length]).toEqual([0, 1]);
    expect(valid(JSON.parse(jsonLine("capture", changes)))).toBe(false);
  });

  it("that is not there is said once, and the records are still read", async () => {
    const { notices, reports } = await collect(jsonLine("read") + jsonLine("read"));
    expect(notices).toMatchObject([{ line: 1, reason: "header-missing" }]);
    expect(reports).toHaveLength(2);
  });

  it("of another version leaves no record read, each counted and given back", async () => {
    const { rejects, reports } = await collect(jsonLine("capture", { version: 2 }) + jsonLine("read").repeat(2));
    expect(rejects.map(({ line, reason, becauseOf }) => [line, reason, becauseOf])).toEqual([
      [1, "version-unknown", null],
      [2, "version-unknown", 1],
      [3, "version-unknown", 1],
    ]);
    expect(Buffer.from(rejects[2]!.raw).toString()).toBe(jsonLine("read"));
    expect(reports).toEqual([]);
  });

  it("of a known version after one of another begins to read again", async () => {
    const text = jsonLine("capture", { version: 2 }) + jsonLine("read") + jsonLine("capture") + jsonLine("read");
    const { reports, rejects } = await collect(text);
    expect([reports.length, rejects.map(({ line }) => line)]).toEqual([1, [1, 2]]);
  });

  it("of another layout names both and leaves no record read", async () => {
    const { rejects } = await collect(jsonLine("capture", { layout: 9 }) + jsonLine("read"));
    expect(rejects.map(({ reason }) => reason)).toEqual(["layout-unknown", "layout-unknown"]);
    expect(rejects[0]!.sentence).toContain("written with layout 9, read with 1");
  });

  it("of another specification with our layout number is named and read", async () => {
    const { notices, reports } = await collect(jsonLine("capture", { fingerprint: "00000001" }) + jsonLine("read"));
    expect(notices).toMatchObject([{ line: 1, reason: "fingerprint-mismatch" }]);
    expect(notices[0]!.sentence).toContain(`written with 00000001, read with ${good.capture.fingerprint}`);
    expect(reports).toHaveLength(1);
  });

  it.each(["", "\n\n", jsonLine("capture")])("without a record after it: %j has no record at all", async (text) => {
    const { notices, counts } = await collect(text);
    expect(notices).toMatchObject([{ reason: "file-empty" }]);
    expect(counts.noticed).toEqual({ "file-empty": 1 });
  });
});
