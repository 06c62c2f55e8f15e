import { describe, expect, it } from "vitest";
import { csvHeading, csvLine } from "../../../host/export/csv.ts";
import { readingRows, sessionName } from "../../../host/export/reading-rows.ts";
import { capture, sessionFile, stretch, work } from "../sessions/story.ts";

const events = [
  { event: "wrapped", kit_time_s: 2 },
  { event: "stood_up", kit_time_s: 5 },
] as const;

async function rows() {
  const tags = [{ epc: "30361f9404c0004000000007", site: 'calf, "outer"', layer: 2 }];
  const result = await work(sessionFile({ tags, events }), [capture([{ samples: stretch(0, 10, () => 40) }])]);
  return { result, list: [...readingRows(result)] };
}

describe("readings as a table", () => {
  it("have a row for every frame, with posture and whether the dressing was on", async () => {
    const { list } = await rows();
    expect(list).toHaveLength(20);
    expect(list.map(({ posture, worn }) => `${posture} ${worn}`)).toEqual([
      ...new Array(4).fill("resting false"),
      ...new Array(6).fill("resting true"),
      ...new Array(10).fill("standing true"),
    ]);
  });

  it("as CSV quote what RFC 4180 asks to quote and leave an absent cell empty", async () => {
    const { list } = await rows();
    const names = csvHeading().trimEnd().split(",");
    const line = csvLine({ ...list[6]!, rssi_dbm: null });
    expect(
      line.startsWith('2026-03-04T09:00:03.000Z,walk,S-017,30361f9404c0004000000007,"calf, ""outer""",2,resting,true,'),
    ).toBe(true);
    // The quoted cell holds one comma.
    const cells = line.trimEnd().split(",");
    expect(cells).toHaveLength(names.length + 1);
    expect(cells[names.indexOf("rssi_dbm") + 1]).toBe("");
    expect(Number(cells[names.indexOf("gauge_mmhg") + 1])).toBeCloseTo(40, 4);
  });

  it("are named by their session's file", async () => {
    const { result } = await rows();
    expect(sessionName({ ...result, name: "x/y/leg 3.session.json" })).toBe("leg 3");
    expect(sessionName({ ...result, name: "C:\\x\\leg.json" })).toBe("leg");
  });
});
