/** A specification of one record that uses every type of field; tests bend copies of it. */
import type {
  ArrayField,
  ChecksumField,
  ConstantField,
  EnumerationField,
  FieldSpec,
  FlagsField,
  NumberField,
  RecordSpec,
  ReservedField,
  Specification,
} from "../../protocol/model/vocabulary.ts";

const kind: ConstantField = {
  id: "kind",
  type: "constant",
  role: "kind",
  at: 0,
  container: 16,
  bits: [15, 12],
  raw: 2,
  coldStart: "kept",
  why: "Kind.",
};
const version: ConstantField = { ...kind, id: "layout", role: "layout", bits: [11, 8], raw: 1, why: "Layout." };
const status: FlagsField = {
  id: "status",
  type: "flags",
  at: 0,
  container: 16,
  bits: [7, 0],
  coldStart: 0,
  why: "Flags.",
  flags: [
    { bit: 0, id: "first", why: "First." },
    { bit: 1, id: "late", why: "Late." },
  ],
};
const level: NumberField = {
  id: "level",
  type: "signed",
  at: 2,
  container: 16,
  bits: [15, 0],
  unit: "pascal",
  scale: { num: 1, den: 2, add: 3 },
  rounding: "half-away-from-zero",
  outOfRange: "reject",
  range: [-100, 100],
  sentinels: [{ raw: -32_768, id: "missing", means: "absent" }],
  coldStart: -32_768,
  why: "Level.",
};
const spare: ReservedField = {
  id: "spare",
  type: "reserved",
  at: 4,
  container: 16,
  bits: [15, 8],
  coldStart: 0,
  why: "Spare.",
};
const mode: EnumerationField = {
  id: "mode",
  type: "enumeration",
  at: 4,
  container: 16,
  bits: [7, 0],
  coldStart: "kept",
  why: "Mode.",
  names: [
    { raw: 1, id: "slow" },
    { raw: 2, id: "fast" },
  ],
};
const run: ArrayField = {
  id: "run",
  type: "array",
  at: 6,
  count: 2,
  container: 8,
  element: {
    type: "unsigned",
    unit: "one",
    scale: { num: 1, den: 1 },
    rounding: "floor",
    outOfRange: "saturate",
    range: [0, 255],
  },
  coldStart: 0,
  why: "Run.",
};
const seal: ChecksumField = {
  id: "seal",
  type: "checksum",
  algorithm: "seal",
  at: 8,
  container: 16,
  bits: [15, 0],
  over: [0, 7],
  coldStart: "computed",
  why: "Seal.",
};

const sample: RecordSpec = {
  id: "sample",
  title: "Sample",
  why: "A sample.",
  bytes: 10,
  fields: [kind, version, status, level, spare, mode, run, seal],
};

/** Payload of the one request: a count and as many words. */
const ask: RecordSpec = {
  id: "ask",
  title: "Ask",
  why: "A request.",
  bytes: 1,
  fields: [
    {
      id: "count",
      type: "unsigned",
      at: 0,
      container: 8,
      bits: [7, 0],
      unit: "one",
      scale: { num: 1, den: 1 },
      rounding: "floor",
      outOfRange: "reject",
      range: [0, 9],
      why: "Count.",
    },
  ],
  tails: [{ id: "items", why: "Items.", container: 16, count: "count" }],
};

export const small: Specification = {
  name: "example",
  layout: 1,
  records: [sample, ask],
  banks: [
    {
      id: "user",
      number: 3,
      title: "USER",
      words: 8,
      regions: [
        { id: "first", word: 0, words: 5, record: "sample", writer: "firmware", lock: "unlocked", why: "One." },
        { id: "rest", word: 5, words: 3, record: null, writer: "factory", lock: "none", why: "Nothing." },
      ],
    },
  ],
  messages: [
    { id: "ask", code: 1, direction: "to-kit", answer: "told", record: "ask" },
    { id: "told", code: 64, direction: "to-host", record: "ask" },
  ],
};

type Loose<T> = { -readonly [K in keyof T]: T[K] extends object ? Loose<T[K]> : T[K] };

/** A specification whose parts may be set to anything, wrong things included. */
// biome-ignore lint/suspicious/noExplicitAny: a wrong specification is one the types would refuse.
export type Bent = Loose<Specification> & { records: any; banks: any; messages: any };

/** A deep copy of the small specification, changed by `bend`. */
export function bent(bend: (specification: Bent) => void, from: Specification = small): Specification {
  const copy = structuredClone(from) as unknown as Bent;
  bend(copy);
  return copy as unknown as Specification;
}

/** A field of the first record of a bent copy. */
// biome-ignore lint/suspicious/noExplicitAny: see Bent.
export function fieldOf(specification: Bent, id: string): any {
  return specification.records[0].fields.find((field: FieldSpec) => field.id === id);
}
