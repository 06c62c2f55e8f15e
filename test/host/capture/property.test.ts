import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { headerLine, reportLine } from "../../../host/capture/capture-writer.ts";
import type { AmbientReport, TagReport } from "../../../host/reader/report.ts";
import { collect, jsonLine } from "./collect.ts";

const kitTimeUs = fc.integer({ min: 0, max: 2 ** 48 - 1 });
const word = fc.integer({ min: 0, max: 0xffff });
const tenths = (min: number, max: number) => fc.integer({ min, max }).map((n) => n / 10);

const tagReport: fc.Arbitrary<TagReport> = fc.record({
  kind: fc.constant("read" as const),
  kitTimeUs,
  epc: fc.array(word, { maxLength: 31 }).map((words) => words.map((w) => w.toString(16).padStart(4, "0")).join("")),
  pc: word,
  xpc: word,
  rssiDbm: fc.option(tenths(-32_767, 32_767)),
  frequencyKhz: fc.integer({ min: 0, max: 2 ** 32 - 1 }),
  result: fc.constantFrom("done", "not_asked", "tag_lost", "password_wrong"),
  bank: fc.constantFrom("reserved" as const, "epc" as const, "tid" as const, "user" as const),
  word,
  words: fc.array(word, { maxLength: 255 }),
});

const ambientReport: fc.Arbitrary<AmbientReport> = fc.record({
  kind: fc.constant("ambient" as const),
  kitTimeUs,
  pressureRaw: fc.integer({ min: 3_328_000, max: 16_128_000 }),
  temperatureC: fc.option(tenths(-400, 1250)),
});

const header = {
  version: 1 as const,
  layout: 1,
  fingerprint: 7,
  started: "2026-03-04T09:00:00.000Z",
  source: "invented",
  barometerUncertaintyPa: null,
};

function cut(bytes: Uint8Array, places: readonly number[]): Uint8Array[] {
  const ends = [...new Set(places.map((place) => place % (bytes.length + 1)))].sort((a, b) => a - b);
  return [...ends, bytes.length]
    .map((end, i) => bytes.subarray(i === 0 ? 0 : ends[i - 1], end))
    .filter((c) => c.length);
}

describe("captures", () => {
  it("come back as they were written, however the bytes are cut", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.oneof(tagReport, ambientReport), { minLength: 1, maxLength: 8 }),
        fc.array(fc.nat(), { maxLength: 6 }),
        async (reports, places) => {
          const bytes = Buffer.from(headerLine(header) + reports.map(reportLine).join(""));
          const found = await collect(cut(bytes, places));
          expect(found.headers).toEqual([header]);
          expect(found.reports).toEqual(reports);
          expect(found.rejects).toEqual([]);
        },
      ),
    );
  });

  it("of any bytes never throw, and every line is counted and every rejected byte given back", async () => {
    const piece = fc.oneof(
      fc.uint8Array({ maxLength: 80 }),
      fc.constantFrom(
        jsonLine("capture"),
        jsonLine("read"),
        jsonLine("ambient"),
        "\n",
        "{}\n",
        "epc;words\n",
        "a,epc\n",
      ),
      fc.json().map((text) => `${text}\n`),
      fc
        .constantFrom("__proto__", "version", "words", "record", "note")
        .chain((name) => fc.jsonValue().map((value) => jsonLine("read", { [name]: value }))),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(piece, { maxLength: 8 }), async (pieces) => {
        const bytes = Buffer.concat(pieces.map((p) => (typeof p === "string" ? Buffer.from(p) : p)));
        const { counts, rejects } = await collect(bytes);
        const rejected = Object.values(counts.rejected).reduce((sum, n) => sum + n, 0);
        const feeds = bytes.filter((byte) => byte === 10).length;
        expect(counts.lines).toBe(feeds + (bytes.length > 0 && bytes.at(-1) !== 10 ? 1 : 0));
        expect(counts.headers + counts.read + counts.ambient + counts.blank + rejected).toBe(counts.lines);
        expect(rejects).toHaveLength(rejected);
        const lines = bytes.toString("latin1").split(/(?<=\n)/);
        for (const { line, raw } of rejects) expect(Buffer.from(raw).toString("latin1")).toBe(lines[line - 1]);
      }),
    );
  });
});
