/** Where bits lie, and whose they were: each difference with every line it must give. */
import { describe, expect, it } from "vitest";
import { type Difference, linesOf } from "../../support/differences.ts";
import { type Bent, fieldOf } from "../../support/small-specification.ts";

const level = (s: Bent, more: object) => Object.assign(fieldOf(s, "level"), more);
const ask = (s: Bent) => s.records[1];
const wet = { bit: 0, id: "wet", why: "Wet." };

/** What stands on the spare bits, from the highest down; what is left of them stays spare. */
function onSpare(s: Bent, ...fields: { id: string; bits: [number, number]; [more: string]: unknown }[]): void {
  const fieldsOf = s.records[0].fields;
  const at = fieldsOf.findIndex(({ id }: { id: string }) => id === "spare");
  const base = { type: "flags", at: 4, container: 16, coldStart: 0, why: "New.", flags: [wet] };
  fieldsOf.splice(
    at,
    1,
    ...fields.map((field) => (field.id.startsWith("spare") ? { ...fieldsOf[at], ...field } : { ...base, ...field })),
  );
}

const differences: { readonly [what: string]: Difference } = {
  "an array that grew, on bytes of its own": {
    now: (s) => {
      fieldOf(s, "run").count = 3;
      Object.assign(fieldOf(s, "seal"), { at: 10, over: [0, 7] });
      s.records[0].fields.push({ ...fieldOf(s, "spare"), id: "rest", at: 9, container: 8, bits: [7, 0] });
      Object.assign(s.records[0], { bytes: 12 });
      s.banks[0].regions[0].words = 6;
      Object.assign(s.banks[0].regions[1], { word: 6, words: 2 });
    },
    lines: [
      "breaks record-resized sample: 10 bytes -> 12 bytes",
      "breaks field-resized sample.run: 2 times 8 bits -> 3 times 8 bits",
      "breaks field-moved sample.seal: byte 8 big 16, bit 0 -> byte 10 big 16, bit 0",
      "breaks region-resized user.first: 5 words -> 6 words",
    ],
  },
  "an array that moved": {
    was: (s) =>
      s.records.push({
        ...ask(s),
        id: "row",
        bytes: 4,
        tails: [],
        fields: [
          { ...fieldOf(s, "run"), at: 0 },
          { ...fieldOf(s, "spare"), at: 2, bits: [15, 0] },
        ],
      }),
    now: (s) =>
      s.records.push({
        ...ask(s),
        id: "row",
        bytes: 4,
        tails: [],
        fields: [
          { ...fieldOf(s, "run"), at: 2 },
          { ...fieldOf(s, "spare"), at: 0, bits: [15, 0] },
        ],
      }),
    lines: ["breaks field-moved row.run: byte 0 8, bit 0 -> byte 2 8, bit 0"],
  },
  "another id and another type on the same bits": {
    now: (s) => level(s, { id: "height", type: "unsigned", range: [0, 100], sentinels: [], coldStart: 0 }),
    lines: [
      "breaks field-removed sample.level: signed at byte 2 big 16, bit 0, 16 bits -> nothing",
      "breaks field-added sample.height: nothing -> unsigned at byte 2 big 16, bit 0, 16 bits",
    ],
  },
  "another id and fewer bits": {
    now: (s) => {
      Object.assign(fieldOf(s, "mode"), { id: "pace", bits: [6, 0] });
      s.records[0].fields.push({ ...fieldOf(s, "spare"), id: "bit", bits: [7, 7] });
    },
    lines: [
      "breaks field-removed sample.mode: enumeration at byte 4 big 16, bit 0, 8 bits -> nothing",
      "breaks field-added sample.pace: nothing -> enumeration at byte 4 big 16, bit 0, 7 bits",
    ],
  },
  "another id of spare bits": {
    now: (s) => (fieldOf(s, "spare").id = "later"),
    lines: ["breaks field-renamed sample.spare: spare -> later"],
  },
  "flags on the upper half of the spare bits": {
    now: (s) => onSpare(s, { id: "extra", bits: [15, 12] }, { id: "spare", bits: [11, 8] }),
    lines: ["allowed reserved-used sample.extra: nothing -> flags at byte 4 big 16, bit 12, 4 bits"],
  },
  "flags on the lower half of the spare bits": {
    now: (s) => onSpare(s, { id: "spare", bits: [15, 12] }, { id: "extra", bits: [11, 8] }),
    lines: ["allowed reserved-used sample.extra: nothing -> flags at byte 4 big 16, bit 8, 4 bits"],
  },
  "flags that reach below the spare bits": {
    now: (s) => {
      onSpare(s, { id: "spare", bits: [15, 12] }, { id: "extra", bits: [11, 7] });
      fieldOf(s, "mode").bits = [6, 0];
    },
    lines: [
      "breaks field-resized sample.mode: 8 bits -> 7 bits",
      "breaks field-added sample.extra: nothing -> flags at byte 4 big 16, bit 7, 5 bits",
    ],
  },
  "flags that reach above the spare bits": {
    was: (s) => (fieldOf(s, "mode").bits = [15, 8]) && (fieldOf(s, "spare").bits = [7, 0]),
    now: (s) => {
      fieldOf(s, "mode").bits = [15, 9];
      onSpare(s, { id: "extra", bits: [8, 4] }, { id: "spare", bits: [3, 0] });
    },
    lines: [
      "breaks field-moved sample.mode: byte 4 big 16, bit 8 -> byte 4 big 16, bit 9",
      "breaks field-resized sample.mode: 8 bits -> 7 bits",
      "breaks field-added sample.extra: nothing -> flags at byte 4 big 16, bit 4, 5 bits",
    ],
  },
  "flags seen through another container": {
    was: (s) => (fieldOf(s, "mode").bits = [15, 8]) && (fieldOf(s, "spare").bits = [7, 0]),
    now: (s) => {
      onSpare(s, { id: "extra", container: 8, bits: [7, 0] });
      Object.assign(fieldOf(s, "mode"), { at: 5, container: 8 });
    },
    lines: [
      "breaks field-moved sample.mode: byte 4 big 16, bit 8 -> byte 5 8, bit 0",
      "breaks field-added sample.extra: nothing -> flags at byte 4 8, bit 0, 8 bits",
    ],
  },
  "flags on a new word, with the bit numbers of the spare ones": {
    now: (s) => {
      const flags = { ...fieldOf(s, "status"), id: "extra", at: 10, bits: [15, 8] };
      s.records[0].fields.push(flags, { ...fieldOf(s, "spare"), id: "rest", at: 10, bits: [7, 0] });
      s.records[0].bytes = 12;
      s.banks[0].regions[0].words = 6;
      Object.assign(s.banks[0].regions[1], { word: 6, words: 2 });
    },
    lines: [
      "breaks record-resized sample: 10 bytes -> 12 bytes",
      "breaks field-added sample.extra: nothing -> flags at byte 10 big 16, bit 8, 8 bits",
      "breaks region-resized user.first: 5 words -> 6 words",
    ],
  },
  "flags on a bit that another field gave up": {
    now: (s) => {
      fieldOf(s, "mode").bits = [6, 0];
      s.records[0].fields.push({ ...fieldOf(s, "status"), id: "extra", at: 4, bits: [7, 7], flags: [wet] });
    },
    lines: [
      "breaks field-resized sample.mode: 8 bits -> 7 bits",
      "breaks field-added sample.extra: nothing -> flags at byte 4 big 16, bit 7, 1 bits",
    ],
  },
  "another id on other bits of the same number": {
    now: (s) => {
      Object.assign(fieldOf(s, "mode"), { id: "pace", bits: [15, 8] });
      fieldOf(s, "spare").bits = [7, 0];
    },
    lines: [
      "breaks field-removed sample.mode: enumeration at byte 4 big 16, bit 0, 8 bits -> nothing",
      "breaks reserved-misread sample.pace: nothing -> enumeration at byte 4 big 16, bit 8, 8 bits",
    ],
  },
  "flags on spare bits in the other byte order": {
    now: (s) => {
      onSpare(s, { id: "extra", order: "little", bits: [15, 8] });
      fieldOf(s, "mode").order = "little";
    },
    lines: [
      "breaks field-moved sample.mode: byte 4 big 16, bit 0 -> byte 4 little 16, bit 0",
      "breaks field-added sample.extra: nothing -> flags at byte 4 little 16, bit 8, 8 bits",
    ],
  },
  "a number whose zero means saturated on spare bits": {
    now: (s) =>
      onSpare(s, {
        ...ask(s).fields[0],
        id: "extra",
        bits: [15, 8],
        at: 4,
        container: 16,
        coldStart: 1,
        range: [1, 9],
        sentinels: [{ raw: 0, id: "full", means: "saturated" }],
      }),
    lines: ["breaks reserved-misread sample.extra: nothing -> unsigned at byte 4 big 16, bit 8, 8 bits"],
  },
  "a number whose absent value is not zero on spare bits": {
    now: (s) =>
      onSpare(s, {
        ...ask(s).fields[0],
        id: "extra",
        bits: [15, 8],
        at: 4,
        container: 16,
        coldStart: 1,
        range: [0, 9],
        sentinels: [{ raw: 255, id: "none", means: "absent" }],
      }),
    lines: ["breaks reserved-misread sample.extra: nothing -> unsigned at byte 4 big 16, bit 8, 8 bits"],
  },
};

describe("compareLayouts", () => {
  it.each(Object.entries(differences))("%s", (_, difference) => {
    expect(linesOf(difference)).toEqual(difference.lines);
  });
});
