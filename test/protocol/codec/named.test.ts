import { describe, expect, it } from "vitest";
import { encode } from "../../../protocol/codec/encode.ts";
import { namedRaws, namedValues } from "../../../protocol/codec/named.ts";
import { type DecodedRecord, decode } from "../../../protocol/codec/record.ts";
import { compile, recordOf } from "../../../protocol/model/layout.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";

const layout = compile(specification);

function decoded(id: string, values: { [id: string]: number }): DecodedRecord {
  const record = recordOf(layout, id);
  return decode(record, encode(record, values) as Uint8Array) as DecodedRecord;
}

const frame = decoded("frame", {
  status: 0b1000_0001,
  sequence: 513,
  pressure: 12_969_600, // 101 325 Pa · 128
  temperature: -250,
  supply: 4095,
  uptime: 1_048_575,
});

describe("namedValues", () => {
  it("has units in the names, flags by id, null for absent and the highest value for saturated", () => {
    expect(namedValues(frame, "frame")).toStrictEqual({
      status: ["first_after_cold_start", "burst_ready"],
      sequence: 513,
      pressurePa: 101_325,
      temperatureC: -2.5,
      supplyV: null,
      uptimeS: 104_857.4,
    });
  });

  it("gathers an array and names an enumeration", () => {
    const report = decoded("welcome", {
      link_version: 1,
      max_outstanding: 4,
      capabilities: 0b101,
      power_low: -500,
      power_high: 3000,
      barometer_uncertainty: 12,
      kit_time: 2 ** 40,
    });
    expect(namedValues(report, "welcome")).toMatchObject({ powerLowDbm: -5, powerHighDbm: 30, kitTimeUs: 2 ** 40 });
    const tid = decoded("tid", { features: 4, designer: 1, model: 2, "serial[0]": 3, "serial[1]": 4, "serial[2]": 5 });
    expect(namedValues(tid, "tid")).toEqual({ features: ["xtid"], designer: 1, model: 2, serial: [3, 4, 5] });
    expect(namedValues(decoded("set_channel_plan", { plan: 2 }), "set_channel_plan")).toEqual({ plan: "eu_upper" });
  });
});

describe("namedRaws", () => {
  it("has every field as its raw integer", () => {
    const raws = namedRaws(frame, "frame");
    expect(raws).toMatchObject({ kind: 2, layout: 1, status: 129, temperature: -250, supply: 4095, reserved: 0 });
    expect(Object.keys(raws)).toHaveLength(recordOf(layout, "frame").fields.length);
  });

  it("throws for another record, a programming error", () => {
    expect(() => namedRaws(frame, "header")).toThrow("a record frame was decoded, not header");
  });
});
