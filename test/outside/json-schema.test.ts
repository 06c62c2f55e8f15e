/**
 * The emitted schemas, by a validator of others (npm package ajv), against every vector of a record or message and the example
 * captures and readings. A vector fits a record's schema exactly when our decoder finds no fault in a field's own value.
 */
import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { describe, expect, it } from "vitest";
import { type ExplainedField, explain } from "../../protocol/codec/explain.ts";
import { type CompiledRecord, layout, recordOf } from "../../protocol/index.ts";
import { LEG, legLines, plyframe } from "../support/plyframe.ts";
import { messages, records, type VectorCase } from "../support/vector-cases.ts";
import { readSchema } from "../support/vectors.ts";

const ajv = new Ajv2020({ strict: true, allowUnionTypes: true });
addFormats.default(ajv);
const emitted = JSON.parse(
  readFileSync(new URL("../../protocol/emitted/plyframe.schema.json", import.meta.url), "utf8"),
);
ajv.addSchema(emitted);
const isLine = ajv.compile(readSchema("capture.schema.json"));

const fits = (name: string, value: unknown) => ajv.getSchema(`${emitted.$id}#/$defs/${name}`)!(value) as boolean;

const ENVELOPE_BYTES = 3;

/** A case with the record in it, the place of its first byte, and whether all its fixed part is there. */
function placed({ packet, record, ...rest }: VectorCase) {
  const isMessage = packet.as === "link";
  const [code] = packet.bytes;
  const known = layout.messages.find((message) => message.code === code && message.direction === packet.direction);
  const id = isMessage ? known?.record : record;
  const at = isMessage ? ENVELOPE_BYTES : 0;
  return id === undefined || packet.bytes.length < at + recordOf(layout, id).bytes
    ? []
    : [{ ...rest, record: recordOf(layout, id), fields: explain(recordOf(layout, id), packet.bytes, at).fields }];
}

function rawsOf(record: CompiledRecord, fields: readonly ExplainedField[]) {
  const raws: { [id: string]: number | number[] } = {};
  for (const { array, id } of record.fields) {
    const found = fields.filter(({ field }) => (array === undefined ? field.id === id : field.array === array));
    raws[array ?? id] = array === undefined ? found[0]!.raw : found.map(({ raw }) => raw);
  }
  return raws;
}

/** A bit without a name that stands below a named one: no limit on the integer finds it. */
function isBetweenFlags({ field, raw }: ExplainedField): boolean {
  return field.type === "flags" && raw <= field.named!;
}

const all = [...records, ...messages].flatMap(placed);

describe("the schema of each record, by ajv", () => {
  it.each(all)("$id", ({ record, fields, expected }) => {
    const faults = fields.filter((field) => field.reason !== null && field.reason !== "checksum-mismatch");
    expect(fits(record.id, rawsOf(record, fields))).toBe(faults.every(isBetweenFlags));
    if (expected.values) expect(fits(`${record.id}_values`, expected.values)).toBe(true);
  });

  it("looks at all of them", () => expect(all.length).toBeGreaterThan(1200));

  it("has no room for a field that is missing, of no record, or beyond its values", () => {
    const good = records.find(({ record, expected }) => record === "frame" && expected.values)!.expected;
    expect(fits("frame_values", good.values)).toBe(true);
    const { supply: _, ...without } = good.values!;
    for (const bad of [
      without,
      { ...good.values, colour: 1 },
      { ...good.values, supply: 4.095 },
      { ...good.values, status: ["ready"] },
    ]) {
      expect(fits("frame_values", bad)).toBe(false);
    }
  });
});

describe("the schema of a capture, by ajv", () => {
  it("takes every line of the example", () => {
    for (const line of legLines) expect(isLine(JSON.parse(line))).toBe(true);
  });

  const read = JSON.parse(legLines.find((line) => line.includes('"read"'))!);
  const ambient = JSON.parse(legLines.find((line) => line.includes('"ambient"'))!);

  // Limits by protocol/MEMORY-MAP.md: 48 bits, 31 words, 255 words, -3276.7 to 3276.7 dBm, 26000 to 126000 Pa in 1/128.
  it.each([
    ["kit_time_us", 2 ** 48 - 1, 2 ** 48],
    ["epc", "0".repeat(124), "0".repeat(128)],
    ["words", "0".repeat(1020), "0".repeat(1024)],
    ["words", "00000000", "000000"],
    ["rssi_dbm", 3276.7, 3276.8],
    ["rssi_dbm", -3276.7, -3276.8],
    ["rssi_dbm", null, "none"],
    ["frequency_khz", 4_294_967_295, 4_294_967_296],
    ["pc", "3000", "300"],
    ["result", "tag_lost", "melted"],
    ["bank", "tid", "four"],
    ["word", 65_535, 65_536],
  ])("knows the limit of %s: %j is in, %j is out", (member, inside, outside) => {
    expect([isLine({ ...read, [member]: inside }), isLine({ ...read, [member]: outside })]).toEqual([true, false]);
  });

  it.each([
    ["pressure_raw", 3_328_000, 3_327_999],
    ["pressure_raw", 16_128_000, 16_128_001],
    ["temperature_cel", 125, 125.01],
    ["temperature_cel", null, -40.01],
  ])("knows the limit of the ambient's %s: %j is in, %j is out", (member, inside, outside) => {
    expect([isLine({ ...ambient, [member]: inside }), isLine({ ...ambient, [member]: outside })]).toEqual([
      true,
      false,
    ]);
  });
});

describe("what a reading holds of the records, by ajv", () => {
  it("fits in every reading of the example, and not when a record cannot hold it", async () => {
    const { stdout } = await plyframe(["decode", "--json", LEG]);
    const lines = stdout.split("\n").filter((line) => line !== "");
    const readings = lines.map((line) => JSON.parse(line)).filter(({ record }) => record === "reading");
    expect(readings.length).toBeGreaterThan(200);
    for (const reading of readings) expect(fits("reading", reading), JSON.stringify(reading)).toBe(true);
    const wrong = {
      sequence: 65_536,
      supply_v: 4.095,
      temperature_cel: 126,
      uptime_s: 104_857.5,
      raw: { frame: "00" },
      tag: { sampling_period_s: 0, sensor_serial: 1 },
      calibration: { method: "by_eye", sensor_serial: 1, expanded_uncertainty_pa: null },
    };
    for (const [member, value] of Object.entries(wrong)) {
      expect([member, fits("reading", { ...readings[0], [member]: value })]).toEqual([member, false]);
    }
  });
});
