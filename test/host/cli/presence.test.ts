/** Rate, age and misses of tags, worked by hand from a few sightings. */
import { describe, expect, it } from "vitest";
import { PresenceTable, presenceLine } from "../../../host/cli/presence.ts";
import { MOST_TAGS } from "../../../host/readings/reading-stream.ts";
import { report } from "../readings/tag-words.ts";

const seen = (atMs: number, more: Parameters<typeof report>[2] = {}) =>
  report(0, [1], { kitTimeUs: atMs * 1000, epc: "3034", ...more });

/** The first tag of a table with these sightings, at a time. */
function presence(atMs: number, ...sightings: ReturnType<typeof seen>[]) {
  const table = new PresenceTable(100);
  for (const sighting of sightings) table.add(sighting);
  return table.at(atMs * 1000)[0]!;
}

describe("a tag's presence", () => {
  it("has the rate between first and last sighting, the rounds missed in between, and the age", () => {
    const tag = presence(900, ...[0, 100, 200, 500, 600].map((atMs) => seen(atMs)));
    // Four intervals in 0.6 s; rounds at 300, 400, 700 and 800 ms went by without it.
    expect(tag).toMatchObject({ seen: 5, missed: 4, ageS: 0.3 });
    expect(tag.perSecond).toBeCloseTo(4 / 0.6, 9);
  });

  it("that comes early or late in its round has missed none", () => {
    expect(presence(300, seen(0), seen(130), seen(195), seen(300)).missed).toBe(0);
    // 170 ms between two sightings are nearer to two rounds than to one.
    expect(presence(240, seen(0), seen(70), seen(240)).missed).toBe(1);
  });

  it("seen once has no rate, and one of the future no negative age", () => {
    expect(presence(1000, seen(0))).toMatchObject({ perSecond: null, missed: 9, ageS: 1 });
    expect(presence(0, seen(50))).toMatchObject({ ageS: 0, missed: 0 });
  });

  it("counts the reads that failed, and not those that nobody asked for", () => {
    const results = ["done", "tag_lost", "not_asked", "tag_memory_locked"];
    const tag = presence(300, ...results.map((result, i) => seen(i * 100, { result })));
    expect(tag).toMatchObject({ seen: 4, failed: 2 });
  });

  it("has the mean strength of what was measured, null for none", () => {
    expect(presence(0, seen(0, { rssiDbm: -60 }), seen(0, { rssiDbm: null }), seen(0, { rssiDbm: -50 })).rssiDbm).toBe(
      -55,
    );
    expect(presence(0, seen(0, { rssiDbm: null })).rssiDbm).toBeNull();
  });

  it("is told in one sentence, without a rate where there is none", () => {
    const sites = new Map([["3034", "B1"]]);
    expect(presenceLine(presence(500, seen(0), seen(400, { result: "tag_lost" })), sites)).toBe(
      "B1: seen 2 times (2.5/s), 1 of them without the words asked for; 3 rounds missed; last seen 0.1 s before the end.",
    );
    expect(presenceLine(presence(0, seen(0)), sites)).toContain("seen 1 times, 0 of them");
  });
});

describe("a table of presences", () => {
  it("of a reader that goes at its own pace has no missed rounds, and says nothing of them", () => {
    const table = new PresenceTable(null);
    for (const atMs of [0, 900]) table.add(seen(atMs));
    const [tag] = table.at(2_000_000);
    expect(tag!.missed).toBeNull();
    expect(presenceLine(tag!, new Map())).toMatch(/asked for; last seen/);
  });

  it("has its tags in the order of their first sighting", () => {
    const table = new PresenceTable(100);
    for (const [i, epc] of ["b", "a", "c", "b"].entries()) table.add(seen(i, { epc }));
    expect(table.at(4000).map(({ epc }) => epc)).toEqual(["b", "a", "c"]);
  });

  it("forgets the tag not seen for longest when there are too many", () => {
    const table = new PresenceTable(100);
    for (let i = 0; i < MOST_TAGS; i++) table.add(seen(i, { epc: `${i}` }));
    table.add(seen(MOST_TAGS, { epc: "0" }));
    table.add(seen(MOST_TAGS, { epc: "new" }));
    const epcs = table.at(0).map(({ epc }) => epc);
    expect([epcs.length, epcs.includes("0"), epcs.includes("1"), epcs.includes("new")]).toEqual([
      MOST_TAGS,
      true,
      false,
      true,
    ]);
  });
});
