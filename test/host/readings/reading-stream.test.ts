import { describe, expect, it } from "vitest";
import type { AmbientReport, TagReport } from "../../../host/reader/report.ts";
import type { AmbientSource } from "../../../host/readings/ambient.ts";
import { bandText } from "../../../host/readings/bands.ts";
import { toHpa, toMmhg, toPascal } from "../../../host/readings/pressure.ts";
import { qualities } from "../../../host/readings/quality.ts";
import type { Reading } from "../../../host/readings/reading.ts";
import { ReadingStream, type Session } from "../../../host/readings/reading-stream.ts";
import { layout, recordOf } from "../../../protocol/index.ts";
import {
  calibration,
  calibrations,
  counters,
  EMPTY_SLOT,
  EPC,
  frame,
  header,
  report,
  service,
  torn,
  wordsOf,
} from "./tag-words.ts";

const KIT: AmbientSource = { kind: "kit_barometer" };
const session: Session = { started: "2026-03-04T09:00:00.000Z", barometerUncertaintyPa: 12 };
const AMBIENT = 12_969_600; // 1013.25 hPa in 1/128 Pa
const barometer = (kitTimeUs = 9_500_000, pressureRaw = AMBIENT): AmbientReport => ({
  kind: "ambient",
  kitTimeUs,
  pressureRaw,
  temperatureC: null,
});

function pushAll(reports: readonly (TagReport | AmbientReport)[], source = KIT, of: Session = session) {
  const stream = new ReadingStream(layout, of, source);
  const outcomes = reports.flatMap((each) => stream.push(each));
  const readings = outcomes.filter((outcome): outcome is Reading => outcome.kind === "reading");
  const unread = outcomes.flatMap((outcome) => (outcome.kind === "unread" ? [outcome] : []));
  return { outcomes, readings, unread, last: readings.at(-1)!, counts: stream.counts };
}

/** Quality of the last reading without `first_sight`, which every first frame has. */
function qualityOf(reports: readonly (TagReport | AmbientReport)[], source = KIT, of = session) {
  return pushAll(reports, source, of).last.quality.filter((id) => id !== "first_sight");
}

const good = [barometer(), calibrations(), service({ a: frame({ pressure: AMBIENT + 500_000 }) })];

describe("a reading", () => {
  it("without anything to remark has value, uncertainty and no flag but the first sight", () => {
    const { last, counts } = pushAll(good);
    // 500000 / 128 = 3906.25 Pa; / 133.322387415 = 29.299280306 mmHg; 2 sqrt(30^2 + 6^2) = 61.188234163 Pa
    expect(toPascal(last.gauge!)).toBe(3906.25);
    expect(toMmhg(last.gauge!)).toBeCloseTo(29.299280306, 8);
    expect(toHpa(last.absolute!)).toBe(1052.3125);
    expect(last.expandedUncertaintyPa).toBeCloseTo(61.188234163, 8);
    expect(last.quality).toEqual(["first_sight"]);
    expect(bandText(last.band!)).toBe("moderate");
    expect(last).toMatchObject({
      ...{ epc: EPC, sequence: 100, slot: "a", temperatureC: 30, supplyV: 1.8, uptimeS: 5, uptimeSaturated: false },
      ...{ ageS: 0, ambientAgeS: 0.5, header: { firmware: "2.7", samplingPeriodS: 0.5, sensorSerial: 4711 } },
      counters: { reuseCycles: 0, coldStarts: 3, fruitlessStarts: 1, brownOuts: 2, frames: 100 },
      calibration: { copy: 1, date: "2025-06-23", lastValidDate: "2026-06-23", method: "bench_multi_point" },
    });
    expect(counts).toMatchObject({ ambientReports: 1, tagReports: 2, other: 1, readings: 1, distinctFrames: 1 });
  });

  it("is calibrated as the block says", () => {
    // +10 Pa offset; 10 Pa/K over 5 K taken off; gain 1.25 on what is left above ambient.
    const block = calibration({ offset: 1280, effect: 640, gain: 1_310_720 });
    const pressure = AMBIENT + 400_000 - 1280 + 6400;
    const { last } = pushAll([barometer(), calibrations(block), service({ a: frame({ pressure }) })]);
    expect(last.absolute! - AMBIENT).toBe(400_000);
    expect(toPascal(last.gauge!)).toBe(3906.25);
  });

  it("agrees with exact rational arithmetic over all terms, to the roundings of the rule", () => {
    const c = { offset: -3000, effect: -321, gain: 1_100_000, gainTemperature: -900, curvature: 250, reference: 2500 };
    const [pressure, temperature] = [AMBIENT + 700_001, 3333];
    const { last } = pushAll([
      barometer(),
      calibrations(calibration(c)),
      service({ a: frame({ pressure, temperature }) }),
    ]);
    // Physical formula in plain numbers: offset/128 Pa, effect/64 Pa/K, gain/2^20, 1e-6/K, 1e-9/Pa.
    const kelvin = (temperature - c.reference) / 100;
    const absolutePa = (pressure + c.offset) / 128 - (kelvin * c.effect) / 64;
    const linearPa = (absolutePa - AMBIENT / 128) * (c.gain / 2 ** 20) * (1 + c.gainTemperature * 1e-6 * kelvin);
    const gaugePa = linearPa * (1 + c.curvature * 1e-9 * linearPa);
    expect(Math.abs(toPascal(last.absolute!) - absolutePa)).toBeLessThan(1 / 128);
    expect(Math.abs(toPascal(last.gauge!) - gaugePa)).toBeLessThan(0.02);
  });

  it("reads a temperature below zero", () => {
    const { last } = pushAll([barometer(), calibrations(), service({ a: frame({ temperature: -1234 }) })]);
    expect(last.temperatureC).toBe(-12.34);
    expect(last.quality).toContain("temperature_outside_calibration");
  });

  it("takes the newer slot over the end of the number circle", () => {
    const slots = { a: frame({ sequence: 65_535 }), b: frame({ sequence: 0 }) };
    expect(pushAll([service(slots)]).last).toMatchObject({ slot: "b", sequence: 0 });
  });

  it("says when time since cold start is at its highest", () => {
    const { last } = pushAll([service({ a: frame({ uptime: 1_048_575 }) })]);
    expect(last).toMatchObject({ uptimeS: 104_857.4, uptimeSaturated: true });
  });
});

describe("quality flags", () => {
  it("know every flag of the frame's status", () => {
    const flags = recordOf(layout, "frame").fields.find(({ id }) => id === "status")!.flags!;
    expect(flags).toHaveLength(8);
    for (const { bit, id } of flags) {
      expect(Object.keys(qualities)).toContain(id);
      expect(qualityOf([...good.slice(0, 2), service({ a: frame({ status: 1 << bit }) })])).toEqual([id]);
    }
  });

  type Case = [name: string, reports: (TagReport | AmbientReport)[], expected: string[], uncertain: boolean];
  const at = (kitTimeUs: number) => ({ kitTimeUs });
  const gauge = (steps: number) => service({ a: frame({ pressure: AMBIENT + steps }) });
  const cases: Case[] = [
    ["no calibration read", [barometer(), service()], ["uncalibrated", "calibration_not_read"], true],
    [
      "both copies torn",
      [barometer(), calibrations(torn(calibration())), service()],
      ["uncalibrated", "calibration_unreadable"],
      true,
    ],
    [
      "copy 1 torn",
      [barometer(), calibrations(torn(calibration()), calibration()), service()],
      ["calibration_second_copy"],
      false,
    ],
    ["copy 2 torn", [barometer(), calibrations(calibration(), torn(calibration())), service()], [], false],
    [
      "copies differ",
      [barometer(), calibrations(calibration(), calibration({ offset: 1 })), service()],
      ["calibration_copies_differ"],
      false,
    ],
    [
      "another sensor's block",
      [barometer(), calibrations(calibration({ serial: 9 })), service()],
      ["uncalibrated", "calibration_other_sensor"],
      true,
    ],
    [
      "only copy 2 is this sensor's",
      [barometer(), calibrations(calibration({ serial: 9 }), calibration()), service()],
      ["calibration_second_copy", "calibration_copies_differ"],
      false,
    ],
    [
      "past its validity",
      [barometer(), calibrations(calibration({ validity: 8 })), service()],
      ["calibration_expired"],
      false,
    ],
    [
      "no limit of validity",
      [barometer(), calibrations(calibration({ date: 0, validity: 255 })), service()],
      [],
      false,
    ],
    [
      "dated after the session",
      [barometer(), calibrations(calibration({ date: 3000 })), service()],
      ["calibration_dated_later"],
      false,
    ],
    [
      "date not stated",
      [barometer(), calibrations(calibration({ date: 65_535 })), service()],
      ["calibration_age_unknown"],
      false,
    ],
    [
      "uncertainty not stated",
      [barometer(), calibrations(calibration({ uncertainty: 65_535 })), service()],
      ["calibration_uncertainty_not_stated"],
      true,
    ],
    [
      "reuse since calibration",
      [barometer(), calibrations(calibration({ since: 1, count: 3 })), service()],
      ["reuse_since_calibration"],
      false,
    ],
    [
      "counters ahead of the block",
      [barometer(), calibrations(calibration({ count: 3 })), service({ counters: counters({ reuse: 4 }) })],
      ["reuse_since_calibration"],
      false,
    ],
    [
      "one cycle before the limit",
      [barometer(), calibrations(calibration({ count: 9, limit: 10 })), service()],
      [],
      false,
    ],
    [
      "at the limit of reuse",
      [barometer(), calibrations(calibration({ count: 10, limit: 10 })), service()],
      ["reuse_limit_reached"],
      false,
    ],
    [
      "counters torn",
      [barometer(), calibrations(), service({ counters: torn(counters()) })],
      ["counters_unreadable"],
      false,
    ],
    [
      "just inside the temperatures covered",
      [barometer(), calibrations(), service({ a: frame({ temperature: 4000 }) })],
      [],
      false,
    ],
    [
      "above the temperatures covered",
      [barometer(), calibrations(), service({ a: frame({ temperature: 4001 }) })],
      ["temperature_outside_calibration"],
      true,
    ],
    [
      "below the temperatures covered",
      [barometer(), calibrations(), service({ a: frame({ temperature: 1499 }) })],
      ["temperature_outside_calibration"],
      true,
    ],
    [
      "no temperature",
      [barometer(), calibrations(), service({ a: frame({ temperature: -32_768 }) })],
      ["temperature_not_measured"],
      true,
    ],
    ["at the span", [barometer(), calibrations(), gauge(15_000 * 128)], [], false],
    ["beyond the span", [barometer(), calibrations(), gauge(15_000 * 128 + 1)], ["gauge_beyond_span"], true],
    ["below ambient", [barometer(), calibrations(), gauge(-128)], ["below_ambient"], false],
    ["ambient a minute old", [barometer(0), calibrations(), service({}, at(60_000_000))], [], false],
    ["ambient older", [barometer(0), calibrations(), service({}, at(60_000_001))], ["ambient_old"], true],
    [
      "header torn",
      [barometer(), calibrations(), service({ header: torn(header()) })],
      ["header_not_read", "header_unreadable", "calibration_unverified"],
      true,
    ],
    ["slot A torn", [barometer(), calibrations(), service({ a: torn(frame()) })], ["slot_a_bad"], false],
    ["slot B torn", [barometer(), calibrations(), service({ b: torn(frame()) })], ["slot_b_bad"], false],
    ["slot B never written", [barometer(), calibrations(), service({ b: EMPTY_SLOT })], ["slot_b_empty"], false],
    ["slots the same", [barometer(), calibrations(), service({ b: frame() })], ["slots_identical"], false],
    [
      "slots far apart",
      [barometer(), calibrations(), service({ b: frame({ sequence: 90 }) })],
      ["sequence_gap"],
      false,
    ],
  ];

  it.each(cases)("%s", (_name, reports, expected, uncertain) => {
    const { last } = pushAll(reports);
    expect(last.quality.filter((id) => id !== "first_sight")).toEqual(expected);
    expect(last.expandedUncertaintyPa === null).toBe(uncertain);
    expect(last.gauge).not.toBeNull();
  });

  it("every reading without uncertainty has a flag that says why", () => {
    for (const [, reports] of cases) {
      const { last } = pushAll(reports);
      expect(last.quality.some((id) => qualities[id].voids)).toBe(last.expandedUncertaintyPa === null);
    }
  });

  it("a barometer of unknown uncertainty or a session without a date are said", () => {
    const of = { started: null, barometerUncertaintyPa: null };
    expect(qualityOf(good, KIT, of)).toEqual(["calibration_age_unknown", "ambient_uncertainty_not_stated"]);
    expect(pushAll(good, KIT, of).last.expandedUncertaintyPa).toBeNull();
  });

  it("a frame without pressure gives none, and no band", () => {
    const { last } = pushAll([...good.slice(0, 2), service({ a: frame({ status: 4, pressure: 16_777_215 }) })]);
    expect([last.absolute, last.gauge, last.band, last.expandedUncertaintyPa]).toEqual([null, null, null, null]);
    expect(last.quality).toEqual(["sensor_fault", "pressure_not_measured", "first_sight"]);
  });

  it("a difference beyond the arithmetic gives an absolute pressure only", () => {
    const { last } = pushAll([barometer(0, 3_328_000), calibrations(), service()]);
    expect([last.gauge, last.band]).toEqual([null, null]);
    expect(last.quality).toContain("gauge_out_of_range");
    expect(toHpa(last.absolute!)).toBe(1013.25);
  });

  it("without calibration the raw pressure is shown against ambient at gain 1", () => {
    const { last } = pushAll([barometer(), service({ a: frame({ pressure: AMBIENT + 12_800 }) })]);
    expect([toPascal(last.gauge!), last.calibration, last.expandedUncertaintyPa]).toEqual([100, null, null]);
  });

  it("a header that is torn once does not lose what was known", () => {
    const { last } = pushAll([...good, service({ header: torn(header()), a: frame({ sequence: 101 }), b: frame() })]);
    expect(last.header).toMatchObject({ sensorSerial: 4711 });
    expect(last.quality).toEqual(["header_unreadable"]);
  });

  it("counters of the copy with more frames hold", () => {
    const second = report(32, wordsOf(counters({ reuse: 2, frames: 200 })));
    expect(pushAll([second, service()]).last.counters).toMatchObject({ reuseCycles: 2, frames: 200 });
  });
});

describe("frames in time", () => {
  it("repeats are given with their age and not counted as new", () => {
    const times = [10, 11, 13].map((s) => service({}, { kitTimeUs: s * 1e6 }));
    const { readings, counts } = pushAll([barometer(), calibrations(), ...times]);
    expect(readings.map(({ ageS }) => ageS)).toEqual([0, 1, 3]);
    expect(readings.map(({ quality }) => quality.filter((id) => id !== "first_sight"))).toEqual([
      [],
      ["repeated"],
      ["repeated", "stale"],
    ]);
    expect(counts).toMatchObject({ readings: 3, distinctFrames: 1 });
  });

  it("an old frame is not set against the ambient of now without saying so", () => {
    const later = [barometer(100_000_000), service({}, { kitTimeUs: 100_000_000 })];
    const found = pushAll([barometer(), calibrations(), service(), ...later]).last;
    expect(found.quality).toEqual(["first_sight", "repeated", "stale", "ambient_old"]);
    expect([found.ambientAgeS, found.expandedUncertaintyPa]).toEqual([90, null]);
  });

  it("each tag has its own", () => {
    const { readings, counts } = pushAll([service(), service({}, { epc: "30361f9404c0004000000008" })]);
    expect(readings.map(({ quality }) => quality.includes("repeated"))).toEqual([false, false]);
    expect(counts.distinctFrames).toBe(2);
  });
});

describe("ambient sources", () => {
  const tag = service({ a: frame({ pressure: AMBIENT + 128_000 }) });

  it("none: absolute pressure only, and it says so", () => {
    const { last } = pushAll([barometer(), calibrations(), tag], { kind: "none" });
    expect([last.gauge, last.expandedUncertaintyPa, last.band, last.ambient]).toEqual([null, null, null, null]);
    expect(last.quality).toContain("ambient_missing");
    expect(toHpa(last.absolute!)).toBe(1023.25);
  });

  it("a kit that has not yet reported: the same", () => {
    expect(qualityOf([calibrations(), tag])).toEqual(["ambient_missing"]);
  });

  it("typed: with its uncertainty, and never old", () => {
    const typed = (expandedUncertaintyPa: number | null): AmbientSource => ({
      kind: "typed",
      pressurePa: 101_325,
      expandedUncertaintyPa,
    });
    const { last } = pushAll([barometer(0, 13_000_000), calibrations(), { ...tag, kitTimeUs: 9e9 }], typed(80));
    expect([toPascal(last.gauge!), last.expandedUncertaintyPa, last.ambientAgeS]).toEqual([1000, 100, null]);
    expect(qualityOf([calibrations(), tag], typed(null))).toEqual(["ambient_uncertainty_not_stated"]);
  });

  it.each([25_999, 126_001, Number.NaN])("typed %d Pa is refused", (pressurePa) => {
    const source: AmbientSource = { kind: "typed", pressurePa, expandedUncertaintyPa: null };
    expect(() => new ReadingStream(layout, session, source)).toThrow(RangeError);
  });

  const outside = "30361f9404c00040000000ff";
  const source: AmbientSource = { kind: "outside_tag", epc: outside.toUpperCase() };
  const beside = (more: Parameters<typeof frame>[0] = {}, kitTimeUs = 9_000_000) =>
    service({ a: frame(more) }, { epc: outside, kitTimeUs });

  it("a tag outside the dressing: its calibrated pressure and its calibration's uncertainty", () => {
    const block = calibration({ offset: 1280, uncertainty: 80 });
    const { readings, last } = pushAll(
      [calibrations(block, block, { epc: outside }), beside(), calibrations(), tag],
      source,
    );
    expect(readings[0]!.gauge).toBeNull();
    expect(readings[0]!.quality).toContain("ambient_tag");
    // 1000 Pa above the standard atmosphere, 10 Pa of which the outside tag's offset takes; 60 and 80 Pa make 100.
    expect([toPascal(last.gauge!), last.expandedUncertaintyPa, last.ambientAgeS]).toEqual([990, 100, 1]);
    expect(last.ambient!.source).toBe("outside_tag");
  });

  it("one without calibration gives no uncertainty, one with a fault gives no ambient", () => {
    expect(qualityOf([beside(), calibrations(), tag], source)).toEqual(["ambient_uncertainty_not_stated"]);
    expect(qualityOf([beside({ status: 4 }), calibrations(), tag], source)).toEqual(["ambient_missing"]);
  });

  it("its repeated frame grows old", () => {
    const later = beside({}, 100_000_000);
    const found = qualityOf([beside(), later, calibrations(), { ...tag, kitTimeUs: 100_000_000 }], source);
    expect(found).toContain("ambient_old");
  });
});

describe("a read without a reading is counted with its reason", () => {
  const otherSpecification = header({ fingerprint: 1 });
  it.each([
    ["a lost tag", service({}, { result: "tag_lost", words: [] }), "tag-lost", "word 0 gave tag_lost"],
    ["locked memory", service({}, { result: "tag_memory_locked" }), "tag-memory-locked", "user word 0"],
    ["a result outside the list", service({}, { result: "odd" }), "name-unknown", "gave odd"],
    ["no words at all", report(0, []), "record-too-short", "no words"],
    ["slot B missing", report(0, wordsOf(header(), frame())), "record-too-short", "slot_b is not in it"],
    [
      "slot B cut short",
      report(0, wordsOf(header(), frame(), frame({ sequence: 99 }).slice(0, 10))),
      "record-too-short",
      "of slot_b only kind kind 2, layout layout 1, status none, sequence 99, reserved zero, pressure 101325 Pa, temperature 30 Cel",
    ],
    ["the header cut short", report(3, wordsOf(header().slice(6))), "record-too-short", "the start of header"],
    [
      "another layout in the header",
      service({ header: header({ layout: 3 }) }),
      "layout-unknown",
      "layout 3, read with 1",
    ],
    [
      "another layout in the slots",
      service({ a: frame({ layout: 3 }), b: frame({ layout: 3 }) }),
      "layout-unknown",
      "layout 3, read with 1",
    ],
    [
      "another specification",
      service({ header: otherSpecification }),
      "fingerprint-mismatch",
      "specification 00000001 by firmware 2.7",
    ],
    ["both slots torn", service({ a: torn(frame()), b: torn(frame()) }), "slots-both-bad", "slot B checksum-mismatch"],
    ["slots never written", service({ a: EMPTY_SLOT, b: EMPTY_SLOT }), "record-empty", "slots A and B"],
    [
      "slots that contradict",
      service({ a: frame(), b: frame({ pressure: AMBIENT + 1 }) }),
      "slots-contradict",
      "100 and 100",
    ],
    [
      "reserved bits set",
      service({ a: frame({ reserved: 1 }), b: frame({ reserved: 1 }) }),
      "slots-both-bad",
      "reserved-bit-set at frame.reserved",
    ],
  ])("%s", (_name, wrong, reason, says) => {
    const { outcomes, unread, counts } = pushAll([wrong]);
    expect(outcomes).toHaveLength(1);
    expect(unread[0]).toMatchObject({ reason, epc: EPC });
    expect(unread[0]!.sentence).toContain(says);
    expect(unread[0]!.sentence).toMatch(new RegExp(`^tag ${EPC}: .*\\[${reason}\\]$`));
    expect(counts.unread).toEqual({ [reason]: 1 });
  });

  it("a tag once known as another specification's stays so in reads without the header", () => {
    const slots = report(8, wordsOf(frame(), frame({ sequence: 99 })));
    expect(pushAll([service({ header: otherSpecification }), slots]).unread).toHaveLength(2);
    expect(pushAll([service({ header: otherSpecification }), service(), slots]).readings).toHaveLength(2);
  });

  it("sightings and other memory are no reads of a frame", () => {
    const tid = report(0, [0xe2c0], { bank: "tid" });
    const seen = report(0, [], { result: "not_asked" });
    const { outcomes, counts } = pushAll([tid, seen, calibrations(), report(0, wordsOf(header()))]);
    expect(outcomes).toEqual([]);
    expect(counts).toMatchObject({ tagReports: 4, other: 3, sighted: 1, unread: {} });
  });
});
