import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { findingCodes } from "../../../host/calibrate/finding.ts";
import { de } from "../../../host/page/text/de.ts";
import { en } from "../../../host/page/text/en.ts";
import { Text } from "../../../host/page/text/text.ts";
import { cautions } from "../../../host/readings/cautions.ts";
import { qualities } from "../../../host/readings/quality.ts";
import { reasons } from "../../../protocol/index.ts";

const names = (template: string) => [...template.matchAll(/\{(\w+)\}/g)].map(([, name]) => name).sort();

describe("languages", () => {
  it("have the same keys", () => {
    expect(Object.keys(de.say).sort()).toEqual(Object.keys(en.say).sort());
  });

  it("have the same placeholders at each key", () => {
    const wrong = Object.entries(en.say).filter(([key, template]) => {
      const other = de.say[key as keyof typeof en.say];
      return names(template).join() !== names(other).join();
    });
    expect(wrong).toEqual([]);
    expect(names(de.bandBoundary)).toEqual(names(en.bandBoundary));
  });

  it("have no empty word and no brace left over", () => {
    for (const words of [en.say, de.say]) {
      for (const [key, template] of Object.entries(words)) {
        expect(template.trim(), key).not.toBe("");
        expect(template.replace(/\{\w+\}/g, ""), key).not.toMatch(/[{}]/);
      }
    }
  });

  it("are two: hardly any sentence is the same in both", () => {
    const same = Object.entries(en.say).filter(
      ([key, word]) =>
        // A name stays as it is.
        key !== "page.name" && word.replace(/\{\w+\}/g, "").length > 12 && word === de.say[key as never],
    );
    expect(same).toEqual([]);
  });

  it("have every quality flag, every reason, every finding and every caution", () => {
    expect(Object.keys(de.reasons).sort()).toEqual(Object.keys(reasons).sort());
    expect(Object.keys(en.reasons).sort()).toEqual(Object.keys(reasons).sort());
    expect(Object.keys(de.quality).sort()).toEqual(Object.keys(qualities).sort());
    expect(Object.keys(en.quality).sort()).toEqual(Object.keys(qualities).sort());
    expect(Object.keys(de.findings ?? {}).sort()).toEqual(Object.keys(findingCodes).sort());
    expect(de.cautions).toHaveLength(cautions.length);
    expect(en.cautions).toEqual(cautions);
  });

  it("recommend nothing", () => {
    const all = [...Object.values(en.say), ...Object.values(de.say)].join("\n");
    expect(all).not.toMatch(/tighten|loosen|\bsafe\b|\bnormal\b|fester|lockerer|sicher\b|normaler?\b/i);
  });
});

describe("keys", () => {
  // Keys are also put together from a prefix and an id, which a search cannot follow: those prefixes are named here.
  const composed = [
    /^view\./,
    /^feed\./,
    /^error\./,
    /^source\./,
    /^mark\.(wrapped|stood|walked|rested)$/,
    /^power\.(fed|patchy|starting|starving)$/,
    /^quality\./,
    /^detail\.ambient\./,
    /^say\.(silent|back|inside|below|above|invalid)$/,
    /^pair\.(wrong|over|unreachable)$/,
    /^settings\.theme\./,
    /^bytes\.(region|record)\./,
    /^power\.(distanceM|conductedDbm|inductorNh|capacitanceUf|periodMs)(\.unit)?$/,
    /^power\.(dressing|run|window|state)\./,
    /^calibrate\.light\./,
  ];
  const sources = readdirSync("host/page", { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".ts") && !/^text.(en|de|en-tools|de-tools|de-reasons)\.ts$/.test(file))
    .map((file) => readFileSync(join("host/page", file), "utf8"))
    .join("\n");

  it("are all used", () => {
    const unused = Object.keys(en.say).filter(
      (key) => !sources.includes(`"${key}"`) && !composed.some((pattern) => pattern.test(key)),
    );
    expect(unused).toEqual([]);
  });

  it("are the only place of words: no view has a sentence of its own", () => {
    const written = [...sources.matchAll(/setText\([^,]+, "([^"]{2,})"/g)].map(([, words]) => words);
    expect(written).toEqual([]);
  });
});

describe("numbers", () => {
  const [english, german] = [new Text("en"), new Text("de")];

  it("have the decimals asked for and the point or comma of the language", () => {
    expect([english.number(61.95, 1), german.number(61.95, 1), english.number(1234.5, 0)]).toEqual([
      "62.0",
      "62,0",
      "1235",
    ]);
  });

  it("have a true minus sign, and none before a zero", () => {
    expect([
      english.number(-3.25, 1),
      english.number(-0.04, 1),
      german.number(-0.04, 1),
      english.number(-0.04, 0),
    ]).toEqual(["−3.3", "0.0", "0,0", "0"]);
  });

  it("never show an uncertainty smaller than it is", () => {
    expect([0.31, 0.3, 0.36, 0.04, 1.999].map((value) => english.uncertainty(value, 1))).toEqual([
      "0.4",
      "0.3",
      "0.4",
      "0.1",
      "2.0",
    ]);
  });

  it("say session times", () => {
    expect([0, 5, 65.34, 59.96, 3600, -3].map((timeS) => english.time(timeS, 1))).toEqual([
      "0:00.0",
      "0:05.0",
      "1:05.3",
      "1:00.0",
      "60:00.0",
      "−0:03.0",
    ]);
    expect([german.time(65.34, 1), english.time(65.34, 0)]).toEqual(["1:05,3", "1:05"]);
  });

  it("say durations and ages", () => {
    expect([0.42, 9.96, 59.4, 200, 7500].map((s) => english.duration(s))).toEqual([
      "0.4 s",
      "10 s",
      "59 s",
      "3 min 20 s",
      "2 h 5 min",
    ]);
    expect([0, 0.99, 1, 9.9, 61].map((s) => english.age(s))).toEqual([
      "under 1 s",
      "under 1 s",
      "1 s",
      "9 s",
      "1 min 1 s",
    ]);
  });

  it("say bands as the published readings have them", () => {
    expect([english.band("very strong"), german.band("very strong"), english.band("20-40/40-60 boundary")]).toEqual([
      "very strong",
      "sehr kräftig",
      "between the bands 20–40 / 40–60",
    ]);
  });

  it("say reason codes, and leave one they do not know as it is", () => {
    expect([
      english.reason("tag-lost"),
      german.reason("tag-lost"),
      english.reason("toString"),
      german.reason("new-one"),
    ]).toEqual(["the tag did not answer", "der Transponder antwortete nicht", "toString", "new-one"]);
  });

  it("fill in what is to be filled in", () => {
    expect(english.say("now.below", { by: "3.2", low: "35", high: "45" })).toBe("3.2 below 35–45");
    expect(german.say("now.below", { by: "3,2", low: "35", high: "45" })).toBe("3,2 unter 35–45");
  });
});
