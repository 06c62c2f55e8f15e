/** One change for every rule of the table, with the code, path and effect it must give and nothing beside it. */
import { describe, expect, it } from "vitest";
import { type ChangeCode, changeRules } from "../../../protocol/model/change.ts";
import { compareLayouts } from "../../../protocol/model/compare.ts";
import { compile } from "../../../protocol/model/layout.ts";
import { type Bent, bent, fieldOf } from "../../support/small-specification.ts";

type Case = readonly [line: string, bend: (s: Bent) => void, beside?: readonly string[]];

const flags = (id: string, bits: [number, number]) => {
  return {
    id,
    type: "flags",
    at: 4,
    container: 16,
    bits,
    coldStart: 0,
    why: "New.",
    flags: [{ bit: 0, id: "wet", why: "Wet." }],
  };
};
const count = (more: object) => {
  return { ...numberOnSpare, ...more };
};
const numberOnSpare = {
  id: "extra",
  type: "unsigned",
  at: 4,
  container: 16,
  bits: [15, 8],
  unit: "one",
  scale: { num: 1, den: 1 },
  rounding: "floor",
  outOfRange: "reject",
  range: [1, 255],
  coldStart: 1,
  why: "New.",
};
const spareOut = (s: Bent) => s.records[0].fields.findIndex(({ id }: { id: string }) => id === "spare");
const spare = (s: Bent, ...fields: object[]) => s.records[0].fields.splice(spareOut(s), 1, ...fields);
const extraRecord = { id: "more", title: "More", why: "More.", bytes: 0, fields: [] };
const extraRegion = {
  id: "second",
  word: 5,
  words: 3,
  record: "block",
  writer: "firmware",
  lock: "unlocked",
  why: "Two.",
};
const block = {
  id: "block",
  title: "Block",
  why: "Block.",
  bytes: 6,
  fields: [{ ...numberOnSpare, at: 0, bits: [15, 0] }],
};
const whole = [0, 2, 4].map((at) => ({ ...numberOnSpare, id: `part_${at}`, at, bits: [15, 0] }));

/**
 * `effect code path: was -> now`, how the small specification is bent to get there, and what comes with it.
 * The effects stand here a second time, so that a changed rule is noticed.
 */
const cases: readonly Case[] = [
  ["allowed layout-renumbered layout: 1 -> 2", (s) => (s.layout = 2) && (fieldOf(s, "layout").raw = 2)],
  ["allowed text-changed sample.level: Level. -> Height.", (s) => (fieldOf(s, "level").why = "Height.")],
  ["allowed text-changed sample: Sample A sample. -> Sample One.", (s) => (s.records[0].why = "One.")],
  ["allowed text-changed user.first: One. -> First.", (s) => (s.banks[0].regions[0].why = "First.")],
  ["allowed text-changed user: USER -> User", (s) => (s.banks[0].title = "User")],
  ["allowed record-added records.more: nothing -> More", (s) => s.records.push(extraRecord)],
  [
    "breaks field-added sample.extra: nothing -> unsigned at byte 10 big 16, bit 0, 16 bits",
    (s) => lengthen(s),
    ["breaks record-resized sample: 10 bytes -> 12 bytes", "breaks region-resized user.first: 5 words -> 6 words"],
  ],
  ["breaks field-renamed sample.level: level -> height", (s) => (fieldOf(s, "level").id = "height")],
  ["breaks field-moved sample.mode: byte 4 big 16, bit 0 -> byte 4 big 16, bit 8", (s) => swapSpare(s)],
  [
    "breaks field-moved sample.level: byte 2 big 16, bit 0 -> byte 2 little 16, bit 0",
    (s) => (fieldOf(s, "level").order = "little"),
  ],
  ["breaks type-changed sample.mode: enumeration -> unsigned", (s) => retype(s)],
  [
    "breaks sign-changed sample.level: signed -> unsigned",
    (s) => unsign(s),
    [
      "breaks range-narrowed sample.level: -100 to 100 -> 0 to 100",
      "breaks sentinel-removed sample.level.missing: -32768 missing (absent) -> nothing",
      "allowed cold-start-changed sample.level: -32768 -> 0",
    ],
  ],
  [
    "allowed reserved-used sample.extra: nothing -> flags at byte 4 big 16, bit 8, 8 bits",
    (s) => spare(s, flags("extra", [15, 8])),
  ],
  [
    "allowed reserved-used sample.extra: nothing -> unsigned at byte 4 big 16, bit 8, 8 bits",
    (s) => spare(s, count({ sentinels: [{ raw: 0, id: "none", means: "absent" }] })),
  ],
  [
    "breaks reserved-misread sample.extra: nothing -> unsigned at byte 4 big 16, bit 8, 8 bits",
    (s) => spare(s, count({})),
  ],
  [
    "breaks scale-changed sample.level: (raw * 1 + 3) / 2 -> (raw * 1 + 3) / 4",
    (s) => (fieldOf(s, "level").scale.den = 4),
  ],
  [
    "breaks scale-changed sample.level: (raw * 1 + 3) / 2 -> (raw * 1 + 0) / 2",
    (s) => (fieldOf(s, "level").scale.add = 0),
  ],
  ["breaks unit-changed sample.level: Pa -> hPa", (s) => (fieldOf(s, "level").unit = "hectopascal")],
  [
    "allowed rounding-changed sample.level: half-away-from-zero -> floor",
    (s) => (fieldOf(s, "level").rounding = "floor"),
  ],
  [
    "allowed out-of-range-changed sample.level: reject -> saturate",
    (s) => (fieldOf(s, "level").outOfRange = "saturate"),
  ],
  ["breaks range-narrowed sample.level: -100 to 100 -> -99 to 100", (s) => (fieldOf(s, "level").range = [-99, 100])],
  ["allowed range-widened sample.level: -100 to 100 -> -100 to 101", (s) => (fieldOf(s, "level").range = [-100, 101])],
  [
    "allowed sentinel-added sample.level.broken: nothing -> 500 broken (absent)",
    (s) => fieldOf(s, "level").sentinels.push({ raw: 500, id: "broken", means: "absent" }),
  ],
  [
    "breaks sentinel-removed sample.level.missing: -32768 missing (absent) -> nothing",
    (s) => Object.assign(fieldOf(s, "level"), { sentinels: [], coldStart: 0 }),
    ["allowed cold-start-changed sample.level: -32768 -> 0"],
  ],
  [
    "breaks sentinel-changed sample.level.missing: -32768 missing (absent) -> -32768 missing (saturated)",
    (s) => (fieldOf(s, "level").sentinels[0].means = "saturated"),
  ],
  [
    "allowed name-added sample.mode.wild: nothing -> 3 wild",
    (s) => fieldOf(s, "mode").names.push({ raw: 3, id: "wild" }),
  ],
  ["breaks name-removed sample.mode.fast: 2 fast -> nothing", (s) => fieldOf(s, "mode").names.pop()],
  ["breaks name-changed sample.mode.fast: 2 fast -> 2 quick", (s) => (fieldOf(s, "mode").names[1].id = "quick")],
  [
    "allowed flag-added sample.status.wet: nothing -> bit 2 wet",
    (s) => fieldOf(s, "status").flags.push({ bit: 2, id: "wet", why: "Wet." }),
  ],
  ["breaks flag-removed sample.status.late: bit 1 late -> nothing", (s) => fieldOf(s, "status").flags.pop()],
  [
    "breaks flag-changed sample.status.late: bit 1 late -> bit 1 early",
    (s) => (fieldOf(s, "status").flags[1].id = "early"),
  ],
  ["breaks constant-changed sample.kind: kind 2 -> kind 3", (s) => (fieldOf(s, "kind").raw = 3)],
  [
    "breaks checksum-changed sample.seal: seal over bytes 0 to 7 -> air over bytes 0 to 7",
    (s) => (fieldOf(s, "seal").algorithm = "air"),
  ],
  [
    "breaks checksum-changed sample.seal: seal over bytes 0 to 7 -> seal over bytes 0 to 5",
    (s) => (fieldOf(s, "seal").over = [0, 5]),
  ],
  ["allowed cold-start-changed sample.status: 0 -> 1", (s) => (fieldOf(s, "status").coldStart = 1)],
  [
    "breaks tail-changed ask: items of 2 bytes counted by count -> items of 1 bytes counted by count",
    (s) => (s.records[1].tails[0].container = 8),
  ],
  ["breaks tail-changed ask: items of 2 bytes counted by count -> no tail", (s) => (s.records[1].tails = [])],
  ["allowed writer-changed user.first: firmware -> reader", (s) => (s.banks[0].regions[0].writer = "reader")],
  ["allowed writer-changed sample.level: nothing -> reader", (s) => (fieldOf(s, "level").writer = "reader")],
  ["allowed lock-changed user.first: unlocked -> permanent", (s) => (s.banks[0].regions[0].lock = "permanent")],
  [
    "allowed bank-added banks.tid: nothing -> 0 words",
    (s) => s.banks.push({ id: "tid", number: 2, title: "TID", words: 0, regions: [] }),
  ],
  [
    "allowed bank-grown user: 8 words -> 9 words",
    (s) => Object.assign(s.banks[0].regions[1], { words: 4 }) && (s.banks[0].words = 9),
  ],
  [
    "breaks bank-shrunk user: 8 words -> 7 words",
    (s) => Object.assign(s.banks[0].regions[1], { words: 2 }) && (s.banks[0].words = 7),
  ],
  [
    "breaks region-moved user.first: word 0 -> word 3",
    (s) => Object.assign(s.banks[0].regions[0], { word: 3 }) && Object.assign(s.banks[0].regions[1], { word: 0 }),
  ],
  [
    "allowed message-added messages.tell: nothing -> 65 to-host with ask",
    (s) => s.messages.push({ id: "tell", code: 65, direction: "to-host", record: "ask" }),
  ],
  [
    "breaks message-removed messages.told: 64 to-host with ask -> nothing",
    (s) => s.messages.pop() && delete s.messages[0].answer,
    ["breaks message-answer-changed messages.ask: told -> nothing"],
  ],
  ["breaks message-code-changed messages.ask: 1 to-kit -> 2 to-kit", (s) => (s.messages[0].code = 2)],
  ["breaks message-answer-changed messages.ask: told -> nothing", (s) => delete s.messages[0].answer],
  ["breaks message-record-changed messages.told: ask -> sample", (s) => (s.messages[1].record = "sample")],
  [
    "allowed region-added user.second: nothing -> block at word 5, 3 words",
    (s) => s.records.push(wholeBlock()) && s.banks[0].regions.splice(1, 1, extraRegion),
    ["allowed record-added records.block: nothing -> Block"],
  ],
];

function wholeBlock(): object {
  return { ...block, fields: whole };
}

function lengthen(s: Bent): void {
  s.records[0].fields.push({ ...numberOnSpare, at: 10, bits: [15, 0] });
  s.records[0].bytes = 12;
  s.banks[0].regions[0].words = 6;
  Object.assign(s.banks[0].regions[1], { word: 6, words: 2 });
}

function swapSpare(s: Bent): void {
  fieldOf(s, "mode").bits = [15, 8];
  fieldOf(s, "spare").bits = [7, 0];
}

function retype(s: Bent): void {
  const at = s.records[0].fields.findIndex(({ id }: { id: string }) => id === "mode");
  s.records[0].fields[at] = { ...numberOnSpare, id: "mode", bits: [7, 0], coldStart: "kept", why: "Mode." };
}

function unsign(s: Bent): void {
  Object.assign(fieldOf(s, "level"), { type: "unsigned", range: [0, 100], sentinels: [], coldStart: 0 });
}

/** Changes that come in company: the codes of the whole list. */
const together: readonly (readonly [codes: readonly ChangeCode[], bend: (s: Bent) => void])[] = [
  [["record-removed", "message-record-changed", "message-record-changed"], (s) => swapAsk(s)],
  [["field-removed"], (s) => grow(s)],
  [["field-moved", "field-moved", "field-moved", "fields-reordered"], (s) => reorder(s)],
  [["range-narrowed", "sentinel-shadows"], (s) => shadow(s)],
  [["record-resized", "field-removed", "field-moved", "checksum-changed", "region-resized"], (s) => shorten(s)],
  [["field-moved", "field-moved", "field-resized"], (s) => fewer(s)],
  [["record-added", "region-record-changed"], (s) => rerecord(s)],
  [["region-removed"], (s) => (s.banks[0].regions = [{ ...s.banks[0].regions[1], word: 0, words: 8 }])],
  [["bank-removed"], (s) => (s.banks = [])],
];

/** The array loses an element, and the byte goes to the spare bits. */
function fewer(s: Bent): void {
  fieldOf(s, "run").count = 1;
  Object.assign(fieldOf(s, "spare"), { at: 7, container: 8, bits: [7, 0] });
  Object.assign(fieldOf(s, "mode"), { at: 4, container: 8, bits: [7, 0] });
  fieldOf(s, "run").at = 5;
  s.records[0].fields.splice(spareOut(s), 1, fieldOf(s, "spare"), { ...fieldOf(s, "spare"), id: "spare_2", at: 6 });
}

function swapAsk(s: Bent): void {
  s.records.pop();
  for (const message of s.messages) message.record = "sample";
}

function grow(s: Bent): void {
  s.records[0].fields.splice(spareOut(s) + 1, 1);
  fieldOf(s, "spare").bits = [15, 0];
}

function reorder(s: Bent): void {
  [fieldOf(s, "level").at, fieldOf(s, "run").at] = [4, 2];
  const [level] = s.records[0].fields.splice(3, 1);
  s.records[0].fields.splice(5, 0, level);
  for (const id of ["spare", "mode"]) fieldOf(s, id).at = 6;
  fieldOf(s, "run").at = 2;
}

function shadow(s: Bent): void {
  fieldOf(s, "level").range = [-100, 99];
  fieldOf(s, "level").sentinels.push({ raw: 100, id: "full", means: "saturated" });
}

function shorten(s: Bent): void {
  s.records[0].bytes = 8;
  fieldOf(s, "seal").at = 6;
  fieldOf(s, "seal").over = [0, 5];
  s.records[0].fields.splice(6, 1);
  s.banks[0].regions[0].words = 4;
  Object.assign(s.banks[0].regions[1], { word: 4, words: 4 });
}

function rerecord(s: Bent): void {
  s.records.push({ ...s.records[0], id: "other", fields: s.records[0].fields });
  s.banks[0].regions[0].record = "other";
}

const was = compile(bent(() => undefined));

describe("compareLayouts", () => {
  it("finds nothing between a layout and itself", () => {
    expect(compareLayouts(was, compile(bent(() => undefined)))).toEqual([]);
  });

  it.each(cases.map((one) => ({ line: one[0], bend: one[1], beside: one[2] ?? [] })))(
    "$line",
    ({ line, bend, beside }) => {
      const changes = compareLayouts(was, compile(bent(bend)));
      const lines = changes.map(
        ({ effect, code, path, was: before, now }) => `${effect} ${code} ${path}: ${before} -> ${now}`,
      );
      expect(lines.sort()).toEqual([line, ...beside].sort());
    },
  );

  it.each(together)("%s", (codes, bend) => {
    expect(compareLayouts(was, compile(bent(bend))).map(({ code }) => code)).toEqual(codes);
  });

  it("has a case for every rule", () => {
    const seen = new Set([...cases.map(([line]) => line.split(" ")[1]!), ...together.flatMap(([codes]) => codes)]);
    expect([...seen].sort()).toEqual(Object.keys(changeRules).sort());
  });
});
