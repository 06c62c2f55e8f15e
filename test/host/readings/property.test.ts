import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { AmbientReport, TagReport } from "../../../host/reader/report.ts";
import { qualities } from "../../../host/readings/quality.ts";
import { readingJson } from "../../../host/readings/reading-json.ts";
import { ReadingStream } from "../../../host/readings/reading-stream.ts";
import { layout, reasons } from "../../../protocol/index.ts";
import { burst, calibration, counters, frame, header, report, torn, wordsOf } from "./tag-words.ts";
import { validReading } from "./valid-reading.ts";

const word = fc.integer({ min: 0, max: 0xffff });
const kitTimeUs = fc.integer({ min: 0, max: 400_000_000 });

/** Memory that mostly decodes, so that the deep paths are reached, with torn and random words between. */
const mostly = (good: fc.Arbitrary<number>, any: fc.Arbitrary<number>) =>
  fc.oneof({ arbitrary: good, weight: 6 }, { arbitrary: any, weight: 1 });
const range = (min: number, max: number) => fc.integer({ min, max });
const slot = fc
  .record({
    sequence: mostly(range(0, 20), word),
    pressure: mostly(range(12_000_000, 14_500_000), range(0, 2 ** 24 - 1)),
    temperature: mostly(range(-4000, 12_500), word),
    status: fc.nat(255),
  })
  .map(frame);
const head = fc
  .record({ fingerprint: mostly(fc.constant(layout.fingerprint), fc.constant(5)), serial: fc.constantFrom(4711, 9) })
  .map(header);
const counts = fc.record({ reuse: fc.nat(255), frames: fc.nat() }).map(counters);
const block = fc
  .record({
    method: mostly(range(1, 5), fc.nat(15)),
    since: fc.nat(15),
    date: word,
    serial: fc.constantFrom(4711, 9),
    count: fc.nat(254),
    offset: fc.nat(2 ** 24 - 1),
    limit: fc.nat(255),
    gain: fc.integer({ min: 262_144, max: 4_194_304 }),
    effect: word,
    gainTemperature: word,
    curvature: word,
    uncertainty: word,
    low: mostly(range(-40, 20), fc.nat(255)),
    high: mostly(range(20, 125), fc.nat(255)),
    span: range(1, 255),
    validity: mostly(range(1, 254), fc.nat(255)),
  })
  .map(calibration);
const run = fc
  .record({
    samples: fc.array(fc.integer({ min: -32_768, max: 32_767 }), { maxLength: 25 }),
    interval: mostly(range(1, 10_000), word),
    sequence: word,
  })
  .map(burst);
const perhapsTorn = (memory: fc.Arbitrary<number[]>) =>
  fc.tuple(memory, fc.option(fc.nat(15), { freq: 6 })).map(([whole, at]) => (at === null ? whole : torn(whole, at)));
const spot = { epc: fc.constantFrom("3036aaaa", "3036bbbb"), kitTimeUs };

const reports: fc.Arbitrary<TagReport | AmbientReport> = fc.oneof(
  fc
    .tuple(perhapsTorn(head), perhapsTorn(slot), perhapsTorn(slot), perhapsTorn(counts), fc.record(spot))
    .map(([h, a, b, c, more]) => report(0, wordsOf(h, a, b, c), more)),
  fc
    .tuple(perhapsTorn(block), perhapsTorn(block), fc.record(spot))
    .map(([a, b, more]) => report(40, wordsOf(a, b), more)),
  fc.tuple(perhapsTorn(run), fc.record(spot)).map(([words, more]) => report(72, wordsOf(words), more)),
  fc
    .tuple(
      word,
      fc.array(word, { maxLength: 110 }),
      fc.record({ ...spot, result: fc.constantFrom("done", "not_asked", "tag_error") }),
    )
    .map(([at, words, more]) => report(at % 110, words, more)),
  fc.record({
    kind: fc.constant("ambient" as const),
    kitTimeUs,
    pressureRaw: fc.integer({ min: 3_328_000, max: 16_128_000 }),
    temperatureC: fc.constant(null),
  }),
);

const sources = [
  { kind: "kit_barometer" },
  { kind: "outside_tag", epc: "3036bbbb" },
  { kind: "typed", pressurePa: 101_325, expandedUncertaintyPa: 10 },
  { kind: "none" },
] as const;

describe("any reports", () => {
  it("never throw; what comes out fits the schema, and a null uncertainty has its reason", () => {
    const seen = { reading: 0, waveform: 0, unread: 0 };
    fc.assert(
      fc.property(
        fc.array(reports, { minLength: 4, maxLength: 25, size: "max" }),
        fc.constantFrom(...sources),
        fc.constantFrom(
          { started: null, barometerUncertaintyPa: null },
          { started: "2026-03-04T09:00:00Z", barometerUncertaintyPa: 12 },
        ),
        (list, source, session) => {
          const stream = new ReadingStream(layout, session, source);
          for (const outcome of list.flatMap((each) => stream.push(each))) {
            seen[outcome.kind]++;
            if (outcome.kind === "unread") {
              expect(Object.keys(reasons)).toContain(outcome.reason);
              continue;
            }
            const json = JSON.parse(JSON.stringify(readingJson(outcome)));
            expect(validReading(json), JSON.stringify(validReading.errors)).toBe(true);
            const voided = outcome.quality.some((id) => qualities[id].voids);
            if (voided || outcome.ambient === null) expect(outcome.expandedUncertaintyPa).toBeNull();
            const gauges = [outcome.gauge].flat();
            if (outcome.expandedUncertaintyPa === null && gauges.some((gauge) => gauge !== null))
              expect(voided).toBe(true);
            if (outcome.ambient === null) expect(gauges.every((gauge) => gauge === null)).toBe(true);
          }
        },
      ),
      { numRuns: 300 },
    );
    expect(Math.min(...Object.values(seen)), JSON.stringify(seen)).toBeGreaterThan(50);
  });

  it("give the same readings again", () => {
    fc.assert(
      fc.property(fc.array(reports, { maxLength: 15 }), (list) => {
        const [a, b] = [0, 1].map(() => {
          const stream = new ReadingStream(
            layout,
            { started: null, barometerUncertaintyPa: 9 },
            { kind: "kit_barometer" },
          );
          return list.flatMap((each) => stream.push(each));
        });
        expect(a).toEqual(b);
      }),
      { numRuns: 50 },
    );
  });
});
