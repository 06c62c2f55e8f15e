/** Memory of tags is bounded: the one not seen for longest is forgotten, and that is counted. */
import { describe, expect, it } from "vitest";
import { countsSentence } from "../../../host/cli/tally.ts";
import { MOST_TAGS, ReadingStream } from "../../../host/readings/reading-stream.ts";
import { RecentMap } from "../../../host/readings/recent-map.ts";
import { layout } from "../../../protocol/index.ts";
import { service } from "./tag-words.ts";

describe("a map that forgets", () => {
  it("keeps the keys asked for last", () => {
    const map = new RecentMap<string, number>(2);
    map.set("a", 1);
    map.set("b", 2);
    expect(map.get("a")).toBe(1);
    map.set("c", 3);
    expect([map.get("a"), map.get("b"), map.get("c"), map.forgotten]).toEqual([1, undefined, 3, 1]);
  });

  it("replaces a value without forgetting another", () => {
    const map = new RecentMap<string, number>(2);
    map.set("a", 1);
    map.set("b", 2);
    map.set("a", 3);
    expect([[...map.values()], map.forgotten]).toEqual([[2, 3], 0]);
  });
});

describe("a stream of readings", () => {
  it("forgets the tag not seen for longest beyond 4096, counts it, and says that its next frame is the first", () => {
    const stream = new ReadingStream(layout, { started: null, barometerUncertaintyPa: null }, { kind: "none" });
    const see = (tag: number) => {
      const epc = `3034${tag.toString(16).padStart(8, "0")}`;
      const [reading] = stream.push(service({}, { epc }));
      return reading?.kind === "reading" ? reading.quality.includes("repeated") : null;
    };
    for (let tag = 0; tag < MOST_TAGS; tag++) expect(see(tag)).toBe(false);
    expect(stream.counts.forgottenTags).toBe(0);
    expect(see(0)).toBe(true);
    see(MOST_TAGS);
    expect(stream.counts.forgottenTags).toBe(1);
    // Tag 1 went; tag 0, seen again meanwhile, is still known.
    expect([see(0), see(1)]).toEqual([true, false]);
    expect(MOST_TAGS).toBe(4096);
    expect(countsSentence([stream.counts])).toMatch(/2 times a tag was forgotten: more than 4096 of them\.$/);
  });
});
