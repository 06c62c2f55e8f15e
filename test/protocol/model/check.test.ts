/** A deliberately wrong specification for every rule, with the code, path and finding it must give and nothing beside it. */
import { describe, expect, it } from "vitest";
import { check } from "../../../protocol/model/check.ts";
import { compile } from "../../../protocol/model/layout.ts";
import { type Rule, rules } from "../../../protocol/model/problem.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { type Bent, bent, fieldOf, small } from "../../support/small-specification.ts";

type Wrong = readonly [rule: Rule, path: string, found: string, bend: (s: Bent) => void];

const wrong: readonly Wrong[] = [
  ["name-malformed", "sample.Level", '"Level"', (s) => (fieldOf(s, "level").id = "Level")],
  ["name-malformed", "sample.mode.__slow", '"__slow"', (s) => (fieldOf(s, "mode").names[0].id = "__slow")],
  ["name-malformed", "banks.user-bank", '"user-bank"', (s) => (s.banks[0].id = "user-bank")],
  ["name-reserved", "sample.double", "double", (s) => (fieldOf(s, "level").id = "double")],
  ["name-reserved", "sample.status.volatile", "volatile", (s) => (fieldOf(s, "status").flags[0].id = "volatile")],
  ["name-duplicate", "sample.level", "level", (s) => (fieldOf(s, "mode").id = "level")],
  ["name-duplicate", "records.ask", "ask", (s) => s.records.push(s.records[1])],
  ["name-duplicate", "sample.mode.slow", "slow", (s) => (fieldOf(s, "mode").names[1].id = "slow")],
  ["reason-missing", "sample.level", "field", (s) => (fieldOf(s, "level").why = " ")],
  ["reason-missing", "sample.status.late", "flag", (s) => (fieldOf(s, "status").flags[1].why = "")],
  ["reason-missing", "sample", "record", (s) => (s.records[0].why = "")],
  ["reason-missing", "user.rest", "region", (s) => (s.banks[0].regions[1].why = "")],
  ["reason-missing", "ask.items", "tail", (s) => (s.records[1].tails[0].why = "")],
  ["slice-outside-container", "sample.mode", "[0, 7] of 16 bits", (s) => (fieldOf(s, "mode").bits = [0, 7])],
  ["slice-outside-container", "sample.level", "[16, 0] of 16 bits", (s) => (fieldOf(s, "level").bits = [16, 0])],
  ["slice-too-wide", "ask.count", "64 bits", (s) => Object.assign(s.records[1], wideAsk)],
  ["container-outside-record", "sample.seal", "bytes 9 to 10", (s) => (fieldOf(s, "seal").at = 9)],
  ["container-mixed", "sample.mode", "container 4+2 little", (s) => (fieldOf(s, "mode").order = "little")],
  ["field-overlap", "sample.mode", "container 4+2 big", (s) => (fieldOf(s, "mode").bits = [8, 0])],
  ["field-gap", "sample", "bit 8 of the container at byte 4", (s) => (fieldOf(s, "spare").bits = [15, 9])],
  ["field-gap", "sample", "byte 7", (s) => (fieldOf(s, "run").count = 1)],
  ["unit-unknown", "sample.level", "millimetre", (s) => (fieldOf(s, "level").unit = "millimetre")],
  ["scale-invalid", "sample.level", "(raw * 1 + 0) / 0", (s) => (fieldOf(s, "level").scale = { num: 1, den: 0 })],
  ["scale-invalid", "sample.level", "(raw * 0.5 + 0) / 1", (s) => (fieldOf(s, "level").scale = { num: 0.5, den: 1 })],
  ["range-reversed", "sample.level", "100 to -100", (s) => (fieldOf(s, "level").range = [100, -100])],
  [
    "range-too-wide",
    "sample.level",
    "-100 to 32768 in 16 bits signed",
    (s) => (fieldOf(s, "level").range = [-100, 32_768]),
  ],
  [
    "range-too-wide",
    "sample.run",
    "-1 to 255 in 8 bits unsigned",
    (s) => (fieldOf(s, "run").element.range = [-1, 255]),
  ],
  [
    "sentinel-outside-bits",
    "sample.level.missing",
    "32768",
    (s) => Object.assign(fieldOf(s, "level"), outsideSentinel),
  ],
  ["sentinel-in-range", "sample.level.missing", "100", (s) => Object.assign(fieldOf(s, "level"), insideSentinel)],
  ["value-duplicate", "sample.mode.fast", "1", (s) => (fieldOf(s, "mode").names[1].raw = 1)],
  ["value-duplicate", "sample.status.late", "0", (s) => (fieldOf(s, "status").flags[1].bit = 0)],
  ["name-outside-bits", "sample.mode.fast", "256 in 8 bits", (s) => (fieldOf(s, "mode").names[1].raw = 256)],
  ["name-outside-bits", "sample.kind", "16 in 4 bits", (s) => (fieldOf(s, "kind").raw = 16)],
  ["flag-outside-bits", "sample.status.late", "8", (s) => (fieldOf(s, "status").flags[1].bit = 8)],
  ["flags-too-wide", "sample.status", "32 bits", (s) => Object.assign(s.records[0], wideFlags)],
  ["enumeration-empty", "sample.run", "0 elements", (s) => Object.assign(s.records[0], emptyRun)],
  ["enumeration-empty", "sample.mode", "no name", (s) => (fieldOf(s, "mode").names = [])],
  ["enumeration-empty", "sample.status", "no flag", (s) => (fieldOf(s, "status").flags = [])],
  ["cold-start-invalid", "sample.level", "101", (s) => (fieldOf(s, "level").coldStart = 101)],
  ["cold-start-invalid", "sample.status", "256", (s) => (fieldOf(s, "status").coldStart = 256)],
  ["cold-start-invalid", "sample.mode", "3", (s) => (fieldOf(s, "mode").coldStart = 3)],
  ["cold-start-missing", "sample.level", "nothing", (s) => delete fieldOf(s, "level").coldStart],
  ["fields-too-many", "ask", "256", (s) => Object.assign(s.records[1], manyFields)],
  ["kind-duplicate", "twin.kind", "2, of sample too", (s) => twin(s)],
  ["checksum-unknown", "sample.seal", "crc8", (s) => (fieldOf(s, "seal").algorithm = "crc8")],
  [
    "checksum-span-invalid",
    "sample.seal",
    "bytes 0 to 8 into 16 bits at byte 8",
    (s) => (fieldOf(s, "seal").over = [0, 8]),
  ],
  [
    "checksum-span-invalid",
    "sample.seal",
    "bytes 3 to 2 into 16 bits at byte 8",
    (s) => (fieldOf(s, "seal").over = [3, 2]),
  ],
  ["tail-count-invalid", "ask.items", "number", (s) => (s.records[1].tails[0].count = "number")],
  [
    "tail-in-bank",
    "sample",
    "items",
    (s) => (s.records[0].tails = [{ ...s.records[1].tails[0], count: "run_length" }]),
  ],
  ["layout-number-invalid", "layout", "15, not 1 to 14", (s) => (s.layout = 15)],
  ["record-unknown", "user.first", "nothing", (s) => (s.banks[0].regions[0].record = "nothing")],
  ["record-unknown", "messages.ask", "nothing", (s) => (s.messages[0].record = "nothing")],
  [
    "region-size-mismatch",
    "user.first",
    "4 words for 10 bytes",
    (s) => Object.assign(s.banks[0].regions[0], { words: 4 }),
  ],
  [
    "region-overlap",
    "user.rest",
    "word 4 is in first too",
    (s) => Object.assign(s.banks[0].regions[1], { word: 4, words: 4 }),
  ],
  ["region-gap", "user", "word 0", (s) => Object.assign(s.banks[0], { words: 9 }) && shift(s)],
  ["region-gap", "user", "word 5", (s) => (s.banks[0].regions[1].word = 6) && (s.banks[0].regions[1].words = 2)],
  ["region-outside-bank", "user.rest", "words 5 to 8", (s) => (s.banks[0].regions[1].words = 4)],
  ["message-code-invalid", "messages.ask", "256 (to-kit)", (s) => (s.messages[0].code = 256)],
  ["message-answer-unknown", "messages.ask", "silence", (s) => (s.messages[0].answer = "silence")],
];

const wideAsk = {
  bytes: 8,
  fields: [{ ...small.records[1]!.fields[0]!, container: 64, bits: [63, 0], range: [0, 9] }],
};
const field = (id: string) => small.records[0]!.fields.find((candidate) => candidate.id === id)!;
const wideFlags = {
  bytes: 10,
  fields: [{ ...field("status"), container: 32, bits: [31, 0] }, ...small.records[0]!.fields.slice(4)],
};
const emptyRun = {
  bytes: 8,
  fields: [
    ...small.records[0]!.fields.slice(0, 6),
    { ...field("run"), count: 0 },
    { ...field("seal"), at: 6, over: [0, 5] },
  ],
};
const manyFields = {
  bytes: 256,
  fields: [...small.records[1]!.fields, { ...field("run"), at: 1, count: 255, why: "Many." }],
};

/** Both regions a word later: word 0 is nobody's. */
function shift(s: Bent): void {
  for (const region of s.banks[0].regions) region.word += 1;
}

function twin(s: Bent): void {
  s.records.push({ ...s.records[0], id: "twin" });
  s.banks[0].regions.splice(1, 1, { ...s.banks[0].regions[0], id: "second", word: 5, record: "twin" });
  s.banks[0].words = 10;
}

const outsideSentinel = { coldStart: 0, sentinels: [{ raw: 32_768, id: "missing", means: "absent" }] };
const insideSentinel = { coldStart: 0, sentinels: [{ raw: 100, id: "missing", means: "absent" }] };

/** What a wrong specification cannot help giving beside the rule it is for. */
const beside: { readonly [rule: string]: readonly Rule[] } = {
  "slice-outside-container": ["field-gap", "field-overlap"],
  "container-outside-record": ["field-gap"],
  "container-mixed": ["field-gap"],
  "tail-in-bank": ["tail-count-invalid"],
  "region-size-mismatch": ["region-gap"],
  "region-outside-bank": ["region-gap"],
  "enumeration-empty": ["region-size-mismatch"],
  "record-unknown": ["region-size-mismatch"],
};

describe("check", () => {
  it("finds nothing wrong with the specification and with the small one", () => {
    expect(check(specification)).toEqual([]);
    expect(check(small)).toEqual([]);
  });

  it.each(wrong)("names %s at %s, found %s", (rule, path, found, bend) => {
    const problems = check(bent(bend));
    expect(problems).toContainEqual({ code: rule, path, says: `${rules[rule]}: ${found}` });
    const allowed = new Set<string>([rule, ...(beside[rule] ?? [])]);
    expect(problems.filter(({ code }) => !allowed.has(code))).toEqual([]);
  });

  it("has a wrong specification for every rule", () => {
    expect([...new Set(wrong.map(([rule]) => rule))].sort()).toEqual(Object.keys(rules).sort());
  });

  it("says what was found and compiles nothing that is wrong", () => {
    const reversed = bent((s) => (fieldOf(s, "level").range = [100, -100]));
    expect(check(reversed)[0]?.says).toBe("the range's lower end is above its upper end: 100 to -100");
    expect(() => compile(reversed)).toThrow(/^sample\.level: .*\[range-reversed\]$/m);
  });
});
