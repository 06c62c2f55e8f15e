/** The live table: what it says of tags that are no longer heard, and what it keeps on a narrow terminal. */
import { describe, expect, it } from "vitest";
import { boardLines } from "../../../host/cli/board.ts";
import { shownWidth } from "../../../host/cli/terminal.ts";
import type { Reading } from "../../../host/readings/reading.ts";
import { ReadingStream } from "../../../host/readings/reading-stream.ts";
import { layout } from "../../../protocol/index.ts";
import { calibrations, EPC, service } from "../readings/tag-words.ts";

/** A reading at kit time 10 s with sampling period 0.5 s, the tag's calibration known. */
function reading(): Reading {
  const session = { started: "2025-09-01T09:00:00.000Z", barometerUncertaintyPa: 12 };
  const stream = new ReadingStream(layout, session, { kind: "kit_barometer" });
  stream.push({ kind: "ambient", kitTimeUs: 9_000_000, pressureRaw: 12_900_000, temperatureC: 22 });
  stream.push(calibrations());
  const [outcome] = stream.push(service());
  expect(outcome!.kind).toBe("reading");
  return outcome as Reading;
}

const latest = new Map([[EPC, reading()]]);
const sites = new Map([[EPC, "ankle"]]);

describe("a tag that is no longer heard", () => {
  it("grows older from drawing to drawing without any report", () => {
    const age = (nowS: number) => boardLines(latest, sites, nowS * 1e6, 200)[1]!.match(/V {2} *([\d.]+) s/)![1];
    expect([age(10), age(10.7), age(95)]).toEqual(["0.0", "0.7", "85.0"]);
  });

  it("is stale after two seconds, three of its sampling periods being less", () => {
    const row = (nowS: number) => boardLines(latest, sites, nowS * 1e6, 200)[1]!;
    expect(row(12)).not.toContain("stale");
    expect(row(12.1)).toContain("stale");
  });

  it("is in the table before it was ever heard, when its site was named", () => {
    const named = new Map([["30aa0000", "calf"], ...sites]);
    const [, calf, ankle] = boardLines(latest, named, 10e6, 200);
    expect(calf).toMatch(/calf .*not seen yet/);
    expect(ankle).toContain("ankle");
  });
});

describe("a narrow terminal", () => {
  it.each([200, 120, 100, 80, 60, 50])(
    "of %i columns keeps pressure, age and every flag, and does not wrap",
    (width) => {
      const lines = boardLines(latest, sites, 95e6, width);
      for (const line of lines) expect(shownWidth(line)).toBeLessThanOrEqual(width);
      const text = lines.join("\n");
      expect(text).toMatch(/\d+\.\d\d ± \d+\.\d\d mmHg/);
      expect(text).toContain("85.0 s");
      for (const flag of [...reading().quality, "stale"]) expect(text).toContain(flag);
    },
  );

  it("leaves out what matters least first", () => {
    expect(boardLines(latest, sites, 10e6, 200)[0]).toMatch(/seen at.*in hPa.*band.*temperature.*supply/);
    expect(boardLines(latest, sites, 10e6, 80)[0]).not.toContain("seen at");
    expect(boardLines(latest, sites, 10e6, 80)[0]).toContain("band");
  });
});
