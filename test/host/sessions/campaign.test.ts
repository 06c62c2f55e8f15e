import { describe, expect, it } from "vitest";
import { campaignOf } from "../../../host/sessions/campaign.ts";
import { capture, EPC, STARTED, sessionFile, stretch, work } from "./story.ts";

const OTHER = "30361f9404c0004000000008";
const events = [{ event: "stood_up", kit_time_s: 40 }] as const;

async function sessionOf(
  id: string,
  resting: number,
  rise: number,
  more: Parameters<typeof sessionFile>[0] = {},
  validity = 12,
  started = STARTED,
) {
  const samples = stretch(0, 80, (timeS) => (timeS < 40 ? resting : resting + rise));
  const text = capture([{ samples, calibration: { validity } }], { started });
  return work(sessionFile({ subject: { id }, events, ...more }), [text]);
}

describe("a campaign", () => {
  it("summarises each site and posture over the sessions, each session once", async () => {
    const campaign = campaignOf([
      await sessionOf("S-1", 40, 10),
      await sessionOf("S-1", 50, 20),
      await sessionOf("S-2", 30, 12),
    ]);
    expect(campaign).toMatchObject({ sessions: 3, subjects: 2, invented: 0, missing: [] });
    const rounded = campaign.rows.map((row) => [
      row.site,
      row.posture,
      row.sessions,
      ...[row.medianMmhg, row.lowMmhg, row.highMmhg].map(Math.round),
    ]);
    expect(rounded).toEqual([
      ["B1", "resting", 3, 40, 30, 50],
      ["B1", "standing", 3, 50, 42, 70],
    ]);
    expect(campaign.stiffness.map(({ sessions, medianMmhg }) => [sessions, Math.round(medianMmhg)])).toEqual([[3, 12]]);
  });

  it("names what is missing", async () => {
    const tags = [
      { epc: EPC, site: "B1" },
      { epc: OTHER, site: "C" },
    ];
    const silent = await sessionOf("S-1", 40, 10, { tags });
    const gaps = await work(sessionFile(), [
      capture([{ samples: [...stretch(0, 10, () => 40), ...stretch(90, 100, () => 40)] }]),
    ]);
    const none = await sessionOf("S-3", 40, 10, { ambient: { source: "none" } });
    const says = (result: typeof silent) => campaignOf([result]).missing.map((one) => `${one.site}: ${one.says}`);
    expect(says(silent)).toEqual(["C: no frame at all"]);
    expect(says(gaps)[0]).toBe("B1: read in 19 % of the time worn, longest gap 81 s");
    expect(says(none)).toEqual(["B1: no pressure above ambient"]);
  });

  it("lists devices that are due, by their latest session", async () => {
    const [early, late] = ["2026-03-04T09:00:00.000Z", "2026-03-05T09:00:00.000Z"];
    const expired = { due: ["calibration past its date: valid to 2025-12-23"] };
    const of = async (first: [number, string], second: [number, string]) =>
      campaignOf([await sessionOf("S-1", 40, 10, {}, ...first), await sessionOf("S-2", 40, 10, {}, ...second)]).devices;
    expect(await of([12, early], [6, late])).toMatchObject([
      { epc: EPC, sessions: 2, calibrationId: "4711@2025-06-23", ...expired },
    ]);
    expect(await of([12, late], [6, early])).toMatchObject([{ sessions: 2, due: [] }]);
  });
});
