/** Canonical text and fingerprint against the worked example of protocol/FINGERPRINT.md, whose number is Python's. */
import { readFileSync } from "node:fs";
import crc32 from "crc/calculators/crc32";
import { describe, expect, it } from "vitest";
import { canonicalText, fingerprint, formatFingerprint } from "../../../protocol/model/canonical.ts";
import type { Specification } from "../../../protocol/model/vocabulary.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { type Bent, bent, fieldOf, small } from "../../support/small-specification.ts";

const page = readFileSync(new URL("../../../protocol/FINGERPRINT.md", import.meta.url), "utf8");

describe("canonicalText", () => {
  it("is the text of the worked example, line for line", () => {
    const example = /```text example\n([\s\S]*?)```/.exec(page)![1];
    expect(canonicalText(small)).toBe(example);
  });

  it("is one ASCII line a thing, each ended by a line feed", () => {
    const text = canonicalText(specification);
    expect(text).toMatch(/^([\x20-\x7e]+\n)+$/);
  });

  it("has a line for each checksum that tag memory uses, by the catalogue's parameters", () => {
    const lines = canonicalText(bent((s) => (fieldOf(s, "seal").algorithm = "crc32"))).split("\n");
    expect(lines.filter((line) => line.startsWith("checksum"))).toEqual([
      "checksum crc32 32 poly 04c11db7 init ffffffff reflected xorout ffffffff",
    ]);
  });

  it("has every sentinel of a field on its line", () => {
    const more = (s: Bent) => fieldOf(s, "level").sentinels.push({ raw: 101, id: "full", means: "saturated" });
    expect(canonicalText(bent(more))).toContain(" range -100..100 -32768=missing:absent 101=full:saturated\n");
  });

  it("leaves out the link, prose, writers and locks", () => {
    const same: ((s: Bent) => void)[] = [
      (s) => (s.records[0].why = "Another reason."),
      (s) => (s.records[0].title = "Another title"),
      (s) => (fieldOf(s, "status").flags[0].why = "Another reason."),
      (s) => (s.banks[0].regions[0].writer = "reader"),
      (s) => (s.banks[0].regions[0].lock = "permanent"),
      (s) => (s.messages[0].code = 9),
      (s) => (s.records[1].fields[0].range = [0, 8]),
    ];
    for (const bend of same) expect(canonicalText(bent(bend))).toBe(canonicalText(small));
  });

  it("changes with every thing that has a meaning on the tag", () => {
    const other: ((s: Bent) => void)[] = [
      (s) => (s.name = "other"),
      (s) => (s.layout = 2),
      (s) => (fieldOf(s, "level").id = "height"),
      (s) => (fieldOf(s, "level").type = "unsigned"),
      (s) => (fieldOf(s, "level").unit = "hectopascal"),
      (s) => (fieldOf(s, "level").scale.num = 3),
      (s) => (fieldOf(s, "level").scale.den = 4),
      (s) => (fieldOf(s, "level").scale.add = 0),
      (s) => (fieldOf(s, "level").rounding = "floor"),
      (s) => (fieldOf(s, "level").outOfRange = "saturate"),
      (s) => (fieldOf(s, "level").range = [-100, 101]),
      (s) => (fieldOf(s, "level").sentinels[0].id = "none"),
      (s) => (fieldOf(s, "level").sentinels[0].raw = -32_767),
      (s) => (fieldOf(s, "level").sentinels[0].means = "saturated"),
      (s) => (fieldOf(s, "level").order = "little"),
      (s) => (fieldOf(s, "status").flags[1].bit = 2),
      (s) => (fieldOf(s, "status").flags[1].id = "early"),
      (s) => (fieldOf(s, "mode").names[0].raw = 3),
      (s) => (fieldOf(s, "mode").names[0].id = "steady"),
      (s) => (fieldOf(s, "kind").raw = 3),
      (s) => (fieldOf(s, "run").count = 3),
      (s) => (fieldOf(s, "run").element.range = [0, 254]),
      (s) => (fieldOf(s, "seal").algorithm = "air"),
      (s) => (fieldOf(s, "seal").over = [0, 5]),
      (s) => (s.banks[0].regions[0].word = 1),
      (s) => (s.banks[0].words = 9),
    ];
    const texts = new Set([canonicalText(small), ...other.map((bend) => canonicalText(bent(bend)))]);
    expect(texts.size).toBe(other.length + 1);
  });
});

describe("fingerprint", () => {
  it("is the number Python's zlib.crc32 gives for the worked example", () => {
    expect(formatFingerprint(fingerprint(small))).toBe("734c0422");
    expect(page).toContain("734c0422");
  });

  it("is CRC-32 by the crc package of the emitted text", () => {
    const text = readFileSync(new URL("../../../protocol/emitted/canonical.txt", import.meta.url));
    expect(fingerprint(specification)).toBe(crc32(text) >>> 0);
  });

  it("is written as eight digits, leading zeros kept", () => {
    expect(formatFingerprint(0xdb984ec)).toBe("0db984ec");
    expect(formatFingerprint(0)).toBe("00000000");
  });

  it("does not depend on anything but the specification given", () => {
    const again: Specification = structuredClone(specification);
    expect(fingerprint(again)).toBe(fingerprint(specification));
  });
});
