import { describe, expect, it } from "vitest";
import { cautions } from "../../../host/readings/cautions.ts";
import { qualities } from "../../../host/readings/quality.ts";
import { readingJson } from "../../../host/readings/reading-json.ts";
import { ReadingStream } from "../../../host/readings/reading-stream.ts";
import { layout } from "../../../protocol/index.ts";
import { burst, calibrations, EPC, frame, report, service, wordsOf } from "./tag-words.ts";
import { readingSchema, validReading } from "./valid-reading.ts";

const AMBIENT = 12_969_600;

function jsonOf(ambient: "kit_barometer" | "none") {
  const session = { started: "2026-03-04T09:00:00Z", barometerUncertaintyPa: 12 };
  const stream = new ReadingStream(layout, session, { kind: ambient });
  stream.push({ kind: "ambient", kitTimeUs: 9_500_000, pressureRaw: AMBIENT, temperatureC: null });
  stream.push(calibrations());
  const outcomes = [
    ...stream.push(service({ a: frame({ pressure: AMBIENT + 500_000 }) })),
    ...stream.push(report(72, wordsOf(burst({ samples: [0, 2000, -32_768] })))),
  ];
  return outcomes.map((outcome) => {
    if (outcome.kind === "unread") throw new Error(outcome.sentence);
    return JSON.parse(JSON.stringify(readingJson(outcome)));
  });
}

describe("a reading as JSON", () => {
  it("is flat, with the unit in every name", () => {
    const [reading] = jsonOf("kit_barometer");
    expect(reading).toMatchObject({
      ...{ record: "reading", epc: EPC, basis: "gauge", gauge_hpa: 39.0625, expanded_uncertainty_hpa: 0.611882 },
      // Worked with exact fractions from 1 mmHg = 133.322387415 Pa.
      ...{ gauge_mmhg: 29.29928, expanded_uncertainty_mmhg: 0.458949, coverage_factor: 2 },
      ...{ absolute_hpa: 1052.3125, ambient_hpa: 1013.25, ambient_source: "kit_barometer", ambient_age_s: 0.5 },
      ...{ temperature_cel: 30, supply_v: 1.8, uptime_s: 5, age_s: 0, band: "moderate", band_scheme: "WUWHS 2008" },
      ...{ quality: ["first_sight"], raw: { pressure: AMBIENT + 500_000, temperature: 3000, status: 0 } },
      calibration: { copy: 1, date: "2025-06-23", valid_to: "2026-06-23", method: "bench_multi_point" },
    });
    expect(validReading(reading), JSON.stringify(validReading.errors)).toBe(true);
  });

  it("without an ambient says absolute only", () => {
    for (const json of jsonOf("none")) {
      expect(json).toMatchObject({ basis: "absolute_only", ambient_source: "none", expanded_uncertainty_mmhg: null });
      expect([json.gauge_mmhg].flat().every((value) => value === null)).toBe(true);
      expect(json.quality).toContain("ambient_missing");
      expect(validReading(json), JSON.stringify(validReading.errors)).toBe(true);
    }
  });

  it("a waveform has its times and a null where nothing was sampled", () => {
    const waveform = jsonOf("kit_barometer")[1];
    expect(waveform).toMatchObject({
      ...{ record: "waveform", interval_s: 0.04, times_s: [0, 0.04, 0.08], gauge_mmhg: [0, 7.500616, null] },
      absolute_hpa: [1013.25, 1023.25, null],
    });
    expect(validReading(waveform), JSON.stringify(validReading.errors)).toBe(true);
  });

  it("of another shape does not fit the schema", () => {
    const [reading, waveform] = jsonOf("kit_barometer");
    const { band_scheme: _, ...without } = reading;
    for (const wrong of [
      without,
      { ...reading, extra: 1 },
      { ...reading, quality: ["fine"] },
      { ...reading, band: "class II" },
      { ...waveform, gauge_mmhg: ["1"] },
    ]) {
      expect(validReading(wrong)).toBe(false);
    }
  });

  it("the schema knows exactly the quality flags there are", () => {
    const listed = readingSchema.$defs.reading.properties.quality.items.enum as string[];
    expect([...listed].sort()).toEqual(Object.keys(qualities).sort());
    expect(readingSchema.$defs.waveform.properties.quality.items.enum).toEqual(listed);
  });
});

describe("cautions", () => {
  it("say what must be said", () => {
    const text = cautions.join(" ");
    for (const phrase of ["not a medical device", "arterial supply", "local protocol", "licensed", "seek help"]) {
      expect(text).toContain(phrase);
    }
    for (const sign of ["Pain", "numbness", "colour", "breathlessness"]) expect(text).toContain(sign);
  });
});
