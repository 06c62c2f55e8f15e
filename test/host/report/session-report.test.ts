import { parseHTML } from "linkedom";
import { beforeAll, describe, expect, it } from "vitest";
import { cautions } from "../../../host/readings/cautions.ts";
import { sessionReport } from "../../../host/report/session-report.ts";
import { exampleSession } from "../../support/example-session.ts";
import { capture, sessionFile, stretch, work } from "../sessions/story.ts";

let page: string;
let text: string;
beforeAll(async () => {
  page = sessionReport(await exampleSession());
  text = parseHTML(page).document.body.textContent!.replace(/\s+/g, " ");
});

/** What a report of other samples says. */
async function reportOf(mmhg: number, changes: Parameters<typeof sessionFile>[0] = {}) {
  const events = [{ event: "stood_up", kit_time_s: 30 }] as const;
  const result = await work(sessionFile({ events, ...changes }), [capture([{ samples: stretch(0, 60, () => mmhg) }])]);
  return sessionReport(result);
}

describe("the report of a session", () => {
  it("needs nothing from outside", () => {
    expect(page).not.toMatch(/<script|<link|<img|@import|url\(|src=/i);
    const addresses = [...page.matchAll(/https?:\/\/[^"'<\s]+/g)].map(([address]) => address);
    expect(new Set(addresses)).toEqual(new Set(["http://www.w3.org/2000/svg"]));
  });

  it("carries every caution, and says that the data are invented", () => {
    for (const caution of cautions) expect(text).toContain(caution);
    expect(text).toContain("Guidelines differ on the arterial limits");
    expect(text).toContain("invented: no measurement stands behind these numbers");
  });

  it("holds its four plots, the provenance and what is wrong", () => {
    expect(page.match(/<svg/g)).toHaveLength(4);
    expect(text).toContain("fingerprint");
    expect(text).toContain("40001@2025-12-30");
    expect(text).toContain("reuse cycles since the calibration: a check is due");
  });

  it("breaks the page once for two sheets, light on paper and dark where it is asked for", () => {
    expect(page.match(/class="second"/g)).toHaveLength(1);
    expect(page).toContain("prefers-color-scheme: dark");
  });

  it("never prints a class without its scheme and its mmHg", () => {
    for (const one of text.matchAll(/class (?:A|I|II|III|IV)\b(.{0,22})/g))
      expect(one[1]).toMatch(/^ \(\d+(-\d+)? mmHg/);
    expect(text).toMatch(/RAL-GZ 387: class III \(34-46 mmHg\)/);
  });

  it("flags very strong pressures with the danger signs, and only those", async () => {
    const strong = await reportOf(65);
    expect(strong).toContain("Very strong (above 60 mmHg, WUWHS 2008): B1 resting 65.0 mmHg, B1 standing 65.0 mmHg.");
    expect(strong).toContain("remove the compression and seek help");
    expect(await reportOf(50)).not.toContain("Very strong");
  });

  it("recommends nothing", () => {
    expect(text).not.toMatch(/\b(should|recommend|increase|reduce|tighten|loosen|re-?apply|treat(ment)?)\b/i);
  });

  it("shows text of the session file as text", async () => {
    const hostile = '<script>alert("x")</script>';
    const page = await reportOf(40, {
      title: hostile,
      garment: hostile,
      tags: [{ epc: "30361f9404c0004000000007", site: hostile }],
    });
    expect(page).not.toContain("<script");
    expect(page).toContain("&lt;script&gt;");
  });

  it("of a session without a single frame still says what is wrong", async () => {
    const result = await work(sessionFile(), [capture([{ epc: "30361f9404c0004000000008", samples: [[0, 40]] }])]);
    const empty = sessionReport(result);
    expect(empty).toContain("is in the session but gave no frame");
    expect(empty).not.toMatch(/NaN|Infinity|undefined/);
  });
});
