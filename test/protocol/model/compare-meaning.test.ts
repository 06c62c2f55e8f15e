/** What is meant by the same bits, and what stands around them: each difference with every line it must give. */
import { describe, expect, it } from "vitest";
import { type Difference, linesOf } from "../../support/differences.ts";
import { type Bent, fieldOf } from "../../support/small-specification.ts";

const level = (s: Bent, more: object) => Object.assign(fieldOf(s, "level"), more);
const ask = (s: Bent) => s.records[1];
const tail = (id: string, more: object = {}) => ({ id, why: "Items.", container: 16, count: "count", ...more });

const differences: { readonly [what: string]: Difference } = {
  "a range that ends lower": {
    now: (s) => level(s, { range: [-100, 99] }),
    lines: ["breaks range-narrowed sample.level: -100 to 100 -> -100 to 99"],
  },
  "a range that begins lower": {
    now: (s) => level(s, { range: [-101, 100] }),
    lines: ["allowed range-widened sample.level: -100 to 100 -> -101 to 100"],
  },
  "a range that moved": {
    now: (s) => level(s, { range: [-99, 101] }),
    lines: [
      "breaks range-narrowed sample.level: -100 to 100 -> -99 to 101",
      "allowed range-widened sample.level: -100 to 100 -> -99 to 101",
    ],
  },
  "a sentinel where the lowest number was": {
    now: (s) =>
      level(s, { range: [-99, 100] }) && fieldOf(s, "level").sentinels.push({ raw: -100, id: "low", means: "absent" }),
    lines: [
      "breaks range-narrowed sample.level: -100 to 100 -> -99 to 100",
      "breaks sentinel-shadows sample.level.low: nothing -> -100 low (absent)",
    ],
  },
  "sentinels beside the range": {
    now: (s) =>
      fieldOf(s, "level").sentinels.push(
        { raw: -101, id: "low", means: "absent" },
        { raw: 101, id: "high", means: "saturated" },
      ),
    lines: [
      "allowed sentinel-added sample.level.low: nothing -> -101 low (absent)",
      "allowed sentinel-added sample.level.high: nothing -> 101 high (saturated)",
    ],
  },
  "another numerator": {
    now: (s) => (fieldOf(s, "level").scale.num = 3),
    lines: ["breaks scale-changed sample.level: (raw * 1 + 3) / 2 -> (raw * 3 + 3) / 2"],
  },
  "a sign gained": {
    was: (s) => level(s, { type: "unsigned", range: [0, 100], sentinels: [], coldStart: 0 }),
    now: (s) => level(s, { range: [0, 100], sentinels: [], coldStart: 0 }),
    lines: ["breaks sign-changed sample.level: unsigned -> signed"],
  },
  "a number that became flags": {
    now: (s) => {
      const { flags } = fieldOf(s, "status");
      level(s, { type: "flags", flags, coldStart: 0 });
    },
    lines: [
      "breaks type-changed sample.level: signed -> flags",
      "allowed cold-start-changed sample.level: -32768 -> 0",
    ],
  },
  "another role of a fixed value": {
    was: (s) => (fieldOf(s, "kind").role = "layout"),
    now: () => undefined,
    lines: ["breaks constant-changed sample.kind: layout 2 -> kind 2"],
  },
  "what a flag says": {
    now: (s) => (fieldOf(s, "status").flags[1].why = "Too late."),
    lines: ["allowed text-changed sample.status: Flags. First. Late. -> Flags. First. Too late."],
  },
  "what a name says": {
    now: (s) => (fieldOf(s, "mode").names[0].why = "Saves power."),
    lines: ["allowed text-changed sample.mode: Mode. -> Mode. Saves power."],
  },
  "what spare bits say": {
    now: (s) => (fieldOf(s, "spare").why = "For later."),
    lines: ["allowed text-changed sample.spare: Spare. -> For later."],
  },
  "fields in another order": {
    now: (s) => s.records[0].fields.reverse(),
    lines: [
      "allowed fields-reordered sample: kind, layout, status, level, spare, mode, run, seal -> seal, run, mode, spare, level, status, layout, kind",
    ],
  },
  "a second tail of the other byte order": {
    now: (s) => ask(s).tails.push(tail("more", { container: 8, order: "little" })),
    lines: [
      "breaks tail-changed ask: items of 2 bytes counted by count -> items of 2 bytes counted by count, more of 1 bytes little counted by count",
    ],
  },
  "what a tail says": {
    now: (s) => (ask(s).tails[0].why = "Things."),
    lines: ["allowed text-changed ask: Ask A request. Items. -> Ask A request. Things."],
  },
  "the title of a record": {
    now: (s) => (ask(s).title = "Question"),
    lines: ["allowed text-changed ask: Ask A request. Items. -> Question A request. Items."],
  },
  "a record that went, and the message with it": {
    now: (s) => {
      s.records.pop();
      s.messages = [];
    },
    lines: [
      "breaks record-removed records.ask: Ask -> nothing",
      "breaks message-removed messages.ask: 1 to-kit with ask -> nothing",
      "breaks message-removed messages.told: 64 to-host with ask -> nothing",
    ],
  },
  "a bank that went": {
    now: (s) => (s.banks = []),
    lines: ["breaks bank-removed banks.user: 8 words -> nothing"],
  },
  "a region that went": {
    now: (s) => (s.banks[0].regions = [{ ...s.banks[0].regions[1], word: 0, words: 8 }]),
    lines: ["breaks region-removed user.first: sample at word 0, 5 words -> nothing"],
  },
  "another direction of a message": {
    now: (s) => (s.messages[1].direction = "to-kit") && delete s.messages[0].answer,
    lines: [
      "breaks message-answer-changed messages.ask: told -> nothing",
      "breaks message-code-changed messages.told: 64 to-host -> 64 to-kit",
    ],
  },
  "another role of a fixed value, the other way": {
    now: (s) => (fieldOf(s, "kind").role = "layout"),
    lines: ["breaks constant-changed sample.kind: kind 2 -> layout 2"],
  },
  "spare bits that became flags under the same id": {
    now: (s) => Object.assign(fieldOf(s, "spare"), { type: "flags", flags: fieldOf(s, "status").flags }),
    lines: ["breaks type-changed sample.spare: reserved -> flags"],
  },
  "a field that became spare bits under the same id": {
    now: (s) => Object.assign(fieldOf(s, "mode"), { type: "reserved", coldStart: 0 }),
    lines: [
      "breaks type-changed sample.mode: enumeration -> reserved",
      "allowed cold-start-changed sample.mode: kept -> 0",
    ],
  },
  "the lock of a field": {
    now: (s) => (fieldOf(s, "mode").lock = "permanent"),
    lines: ["allowed lock-changed sample.mode: nothing -> permanent"],
  },
};

describe("compareLayouts", () => {
  it.each(Object.entries(differences))("%s", (_, difference) => {
    expect(linesOf(difference)).toEqual(difference.lines);
  });
});
