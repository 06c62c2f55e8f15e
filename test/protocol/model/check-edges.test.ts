/** Both sides of each limit of the rules: the last value that is right, and the first that is wrong with all it gives. */
import { describe, expect, it } from "vitest";
import { check } from "../../../protocol/model/check.ts";
import { rules } from "../../../protocol/model/problem.ts";
import { type Bent, bent, fieldOf } from "../../support/small-specification.ts";

const sample = (s: Bent, more: object) => Object.assign(s.records[0], more);
const level = (s: Bent, more: object) => Object.assign(fieldOf(s, "level"), more);
const region = (s: Bent, index: number, more: object) => Object.assign(s.banks[0].regions[index], more);
const message = (s: Bent, more: object) => Object.assign(s.messages[0], more);
const ask = (s: Bent) => s.records[1];
const count = (s: Bent, more: object) => Object.assign(ask(s).fields[0], more);

/** One more record: flags on bits `[msb, 0]` of 32, the bits above them reserved. */
function wideFlags(s: Bent, msb: number): void {
  const wide = { ...fieldOf(s, "status"), id: "wide", container: 32, bits: [msb, 0] };
  const above = { ...fieldOf(s, "spare"), at: 0, container: 32, bits: [31, msb + 1] };
  s.records.push({ ...ask(s), id: "flagged", bytes: 4, fields: msb === 31 ? [wide] : [wide, above], tails: [] });
}

/** The record of the message with an array of so many elements behind its one field. */
function manyFields(s: Bent, elements: number): void {
  const run = { ...fieldOf(s, "run"), at: 1, count: elements };
  Object.assign(ask(s), { bytes: 1 + elements, fields: [...ask(s).fields, run] });
}

/** A record of four bytes whose seal of two stands in front of what it covers. */
function sealInFront(s: Bent, over: [number, number]): void {
  const seal = { ...fieldOf(s, "seal"), at: 0, over };
  s.records.push({ ...ask(s), bytes: 4, id: "front", tails: [], fields: [seal, { ...fieldOf(s, "spare"), at: 2 }] });
  s.records[2].fields[1].bits = [15, 0];
}

const right: readonly (readonly [what: string, bend: (s: Bent) => void])[] = [
  ["layout 14", (s) => (s.layout = 14)],
  [
    "a slice of one bit",
    (s) => {
      fieldOf(s, "spare").bits = [15, 9];
      s.records[0].fields.push({ ...fieldOf(s, "spare"), id: "bit", bits: [8, 8] });
    },
  ],
  [
    "a slice of 53 bits",
    (s) => {
      const wide = { container: 64, bits: [52, 0], range: [0, 9] };
      const above = { ...fieldOf(s, "spare"), at: 0, container: 64, bits: [63, 53] };
      Object.assign(ask(s), { bytes: 8, fields: [{ ...ask(s).fields[0], ...wide }, above] });
    },
  ],
  ["a range of one value", (s) => level(s, { range: [5, 5] })],
  ["a range over all 16 signed bits", (s) => level(s, { range: [-32_768, 32_767], sentinels: [], coldStart: 0 })],
  ["a range over all 8 unsigned bits", (s) => count(s, { range: [0, 255] })],
  ["no list of sentinels", (s) => level(s, { sentinels: undefined, coldStart: 0 })],
  [
    "a sentinel just above the range",
    (s) => (fieldOf(s, "level").sentinels[0].raw = 101) && level(s, { coldStart: 101 }),
  ],
  [
    "a sentinel just below the range",
    (s) => (fieldOf(s, "level").sentinels[0].raw = -101) && level(s, { coldStart: -101 }),
  ],
  ["a cold start at the lower end", (s) => level(s, { coldStart: -100 })],
  ["a cold start at the upper end", (s) => level(s, { coldStart: 100 })],
  ["a cold start with a name", (s) => (fieldOf(s, "mode").coldStart = 2)],
  ["a cold start with every flag", (s) => (fieldOf(s, "status").coldStart = 255)],
  ["a flag on the highest bit", (s) => (fieldOf(s, "status").flags[1].bit = 7)],
  ["31 flags' bits", (s) => wideFlags(s, 30)],
  [
    "a name of value 0 and one of 255",
    (s) => ([fieldOf(s, "mode").names[0].raw, fieldOf(s, "mode").names[1].raw] = [0, 255]),
  ],
  ["255 fields", (s) => manyFields(s, 254)],
  ["a seal over all that stands before it", (s) => (fieldOf(s, "seal").over = [0, 7])],
  ["a seal over one byte", (s) => (fieldOf(s, "seal").over = [7, 7])],
  ["a seal in front of what it covers, up to the record's end", (s) => sealInFront(s, [2, 3])],
  [
    "an array of one element",
    (s) => {
      fieldOf(s, "run").count = 1;
      s.records[0].fields.push({ ...fieldOf(s, "spare"), id: "rest", at: 7, container: 8, bits: [7, 0] });
    },
  ],
  ["message codes 0 and 255", (s) => ([s.messages[0].code, s.messages[1].code] = [0, 255])],
  ["the same code in both directions", (s) => (s.messages[1].code = 1)],
  ["a message that asks for no answer", (s) => delete s.messages[0].answer],
  [
    "a bank filled by one region",
    (s) => {
      s.banks[0].words = 5;
      s.banks[0].regions.pop();
    },
  ],
  ["a record without tails", (s) => delete ask(s).tails],
  ["a record of a bank with an empty list of tails", (s) => sample(s, { tails: [] })],
  ["a record of the link without cold starts", (s) => delete ask(s).fields[0].coldStart],
];

const wrong: readonly (readonly [bend: (s: Bent) => void, ...problems: string[]])[] = [
  [(s) => (s.layout = 0), "layout-number-invalid layout: 0, not 1 to 14"],
  [(s) => (s.layout = 1.5), "layout-number-invalid layout: 1.5, not 1 to 14"],
  [
    (s) => (s.records[0].id = "Sample") && (s.banks[0].regions[0].record = "Sample"),
    'name-malformed records.Sample: "Sample"',
  ],
  [(s) => (fieldOf(s, "spare").id = "int"), "name-reserved sample.int: int"],
  [(s) => (ask(s).tails[0].id = "Items"), 'name-malformed ask.Items: "Items"'],
  [(s) => message(s, { id: "Ask" }), 'name-malformed messages.Ask: "Ask"'],
  [(s) => region(s, 1, { id: "Rest" }), 'name-malformed user.Rest: "Rest"'],
  [(s) => region(s, 1, { id: "first" }), "name-duplicate user.first: first"],
  [(s) => region(s, 1, { why: " " }), "reason-missing user.rest: region"],
  [(s) => (s.records[0].why = " "), "reason-missing sample: record"],
  [(s) => (fieldOf(s, "status").flags[0].why = " "), "reason-missing sample.status.first: flag"],
  [(s) => (ask(s).tails[0].why = " "), "reason-missing ask.items: tail"],
  [(s) => (fieldOf(s, "level").sentinels[0].id = "Missing"), 'name-malformed sample.level.Missing: "Missing"'],
  [
    (s) => fieldOf(s, "level").sentinels.push({ raw: 101, id: "missing", means: "absent" }),
    "name-duplicate sample.level.missing: missing",
  ],
  [
    (s) => fieldOf(s, "level").sentinels.push({ raw: -32_768, id: "broken", means: "absent" }),
    "value-duplicate sample.level.broken: -32768",
  ],
  [
    (s) => level(s, { range: [-32_769, 0], sentinels: [], coldStart: 0 }),
    "range-too-wide sample.level: -32769 to 0 in 16 bits signed",
  ],
  [(s) => level(s, { range: [-100, 0.5] }), "range-too-wide sample.level: -100 to 0.5 in 16 bits signed"],
  [(s) => count(s, { range: [0, 256] }), "range-too-wide ask.count: 0 to 256 in 8 bits unsigned"],
  [(s) => level(s, { scale: { num: 0, den: 2, add: 3 } }), "scale-invalid sample.level: (raw * 0 + 3) / 2"],
  [(s) => level(s, { scale: { num: 1, den: -2 } }), "scale-invalid sample.level: (raw * 1 + 0) / -2"],
  [(s) => level(s, { scale: { num: 1, den: 2, add: 0.5 } }), "scale-invalid sample.level: (raw * 1 + 0.5) / 2"],
  [
    (s) => level(s, { coldStart: 0, sentinels: [{ raw: -100, id: "missing", means: "absent" }] }),
    "sentinel-in-range sample.level.missing: -100",
  ],
  [
    (s) => level(s, { coldStart: 0, sentinels: [{ raw: -32_769, id: "missing", means: "absent" }] }),
    "sentinel-outside-bits sample.level.missing: -32769",
  ],
  [(s) => level(s, { coldStart: -101 }), "cold-start-invalid sample.level: -101"],
  [(s) => level(s, { coldStart: 0.5 }), "cold-start-invalid sample.level: 0.5"],
  [(s) => (fieldOf(s, "run").coldStart = 256), "cold-start-invalid sample.run: 256"],
  [(s) => (fieldOf(s, "status").coldStart = -1), "cold-start-invalid sample.status: -1"],
  [(s) => (fieldOf(s, "status").flags[1].bit = -1), "flag-outside-bits sample.status.late: -1"],
  [(s) => (fieldOf(s, "status").flags[1].bit = 1.5), "flag-outside-bits sample.status.late: 1.5"],
  [(s) => (fieldOf(s, "status").flags[1].id = "first"), "name-duplicate sample.status.first: first"],
  [(s) => wideFlags(s, 31), "flags-too-wide flagged.wide: 32 bits"],
  [(s) => (fieldOf(s, "mode").names[0].raw = -1), "name-outside-bits sample.mode.slow: -1 in 8 bits"],
  [(s) => (fieldOf(s, "kind").raw = -1), "name-outside-bits sample.kind: -1 in 4 bits"],
  [(s) => (fieldOf(s, "kind").raw = 1.5), "name-outside-bits sample.kind: 1.5 in 4 bits"],
  [(s) => manyFields(s, 255), "fields-too-many ask: 256"],
  [
    (s) => (fieldOf(s, "seal").over = [-1, 7]),
    "checksum-span-invalid sample.seal: bytes -1 to 7 into 16 bits at byte 8",
  ],
  [(s) => (fieldOf(s, "seal").over = [9, 9]), "checksum-span-invalid sample.seal: bytes 9 to 9 into 16 bits at byte 8"],
  [
    (s) => (fieldOf(s, "seal").over = [10, 10]),
    "checksum-span-invalid sample.seal: bytes 10 to 10 into 16 bits at byte 8",
  ],
  [(s) => sealInFront(s, [1, 3]), "checksum-span-invalid front.seal: bytes 1 to 3 into 16 bits at byte 0"],
  [
    (s) => (fieldOf(s, "seal").algorithm = "crc32"),
    "checksum-span-invalid sample.seal: bytes 0 to 7 into 16 bits at byte 8",
  ],
  [
    (s) => (fieldOf(s, "level").bits = [7, -1]),
    "slice-outside-container sample.level: [7, -1] of 16 bits",
    "field-gap sample: bit 9 of the container at byte 2",
  ],
  [
    (s) => (fieldOf(s, "level").bits = [14.5, 0]),
    "slice-outside-container sample.level: [14.5, 0] of 16 bits",
    "field-gap sample: bit 15 of the container at byte 2",
  ],
  [
    (s) => (fieldOf(s, "level").bits = [15, 0.5]),
    "slice-outside-container sample.level: [15, 0.5] of 16 bits",
    "field-gap sample: bit 15 of the container at byte 2",
  ],
  // The first to see the bytes is the one that the others are held against.
  [
    (s) => (fieldOf(s, "layout").order = "little"),
    "container-mixed sample.layout: container 0+2 little",
    "field-gap sample: bit 8 of the container at byte 0",
  ],
  [(s) => (fieldOf(s, "run").count = 1.5), "enumeration-empty sample.run: 1.5 elements", "field-gap sample: byte 7"],
  [
    (s) => (fieldOf(s, "spare").at = -2) && (fieldOf(s, "mode").bits = [15, 0]),
    "container-outside-record sample.spare: bytes -2 to -1",
  ],
  [
    (s) => (fieldOf(s, "spare").bits = [15, 10]) && (fieldOf(s, "mode").bits = [6, 0]),
    "field-gap sample: bit 7 of the container at byte 4",
  ],
  [
    (s) => sample(s, { bytes: 12 }) && region(s, 0, { words: 6 }) && region(s, 1, { word: 6, words: 2 }),
    "field-gap sample: byte 10",
  ],
  [(s) => count(s, { type: "signed" }), "tail-count-invalid ask.items: count"],
  [(s) => message(s, { code: -1 }), "message-code-invalid messages.ask: -1 (to-kit)"],
  [(s) => message(s, { code: 1.5 }), "message-code-invalid messages.ask: 1.5 (to-kit)"],
  [
    (s) => s.messages.push({ id: "more", code: 64, direction: "to-host", record: "ask" }),
    "message-code-invalid messages.more: 64 (to-host)",
  ],
  [(s) => message(s, { answer: "ask" }), "message-answer-unknown messages.ask: ask"],
  [(s) => s.banks.push(s.banks[0]), "name-duplicate banks.user: user"],
  [(s) => region(s, 0, { word: -1 }), "region-outside-bank user.first: words -1 to 3", "region-gap user: word 0"],
  [(s) => region(s, 1, { word: 3, words: 5 }), "region-overlap user.rest: word 3 is in first too"],
  [
    (s) => {
      for (const id of ["twin", "triplet"]) s.records.push({ ...s.records[0], id });
      const words = (word: number, record: string) => ({ ...s.banks[0].regions[0], id: record, word, record });
      Object.assign(s.banks[0], { words: 15, regions: [words(0, "sample"), words(5, "twin"), words(10, "triplet")] });
    },
    "kind-duplicate twin.kind: 2, of sample too",
    "kind-duplicate triplet.kind: 2, of sample too",
  ],
];

const found = (bend: (s: Bent) => void) =>
  check(bent(bend)).map(({ code, path, says }) => `${code} ${path}: ${says.replace(`${rules[code]}: `, "")}`);

describe("check", () => {
  it.each(right)("allows %s", (_, bend) => {
    expect(found(bend)).toEqual([]);
  });

  it.each(wrong.map(([bend, ...problems]) => ({ line: problems[0]!, problems, bend })))(
    "$line",
    ({ problems, bend }) => {
      expect(found(bend)).toEqual(problems);
    },
  );

  it("takes a kind of the link for no kind of the tag's memory", () => {
    expect(found((s) => s.records.push({ ...s.records[0], id: "twin" }))).toEqual([]);
  });
});
