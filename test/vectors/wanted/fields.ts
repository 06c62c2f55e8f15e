/** Every field of the specification: its ends, what lies just outside, its sentinels, flags, names and reserved bits. */
import { layout } from "../../../protocol/index.ts";
import type { CompiledField } from "../../../protocol/model/layout.ts";
import type { Group } from "./group.ts";
import { memoryRecords, payloads, rawIn } from "./raw-fields.ts";

/** What one raw integer of a field shows: `reason` null in a good vector. */
interface Case {
  readonly what: string;
  readonly raw: (raw: number) => boolean;
  readonly reason: string | null;
}

const is = (value: number) => (raw: number) => raw === value;
const range = (from: number, to: number) => Array.from({ length: to - from }, (_, i) => from + i);
const distinct = (values: readonly number[]) => [...new Set(values)];

function numberCases({ min, max, sentinels, width, signed }: CompiledField): Case[] {
  const [low, high] = [min!, max!];
  const [lowest, highest] = signed ? [-(2 ** (width - 1)), 2 ** (width - 1) - 1] : [0, 2 ** width - 1];
  const allowed = (raw: number) => (raw >= low && raw <= high) || sentinels!.some((sentinel) => sentinel.raw === raw);
  let above = high + 1;
  while (allowed(above)) above++;
  let below = low - 1;
  while (allowed(below)) below--;
  const outside = distinct([below, above, lowest, highest]).filter(
    (raw) => raw >= lowest && raw <= highest && !allowed(raw),
  );
  return [
    { what: "lowest", raw: is(low), reason: null },
    ...(low === high
      ? []
      : [
          { what: "highest", raw: is(high), reason: null },
          { what: "in the middle", raw: (raw: number) => raw > low && raw < high, reason: null },
        ]),
    ...(signed
      ? [
          { what: "one below zero", raw: is(-1), reason: null },
          { what: "zero", raw: is(0), reason: null },
        ]
      : []),
    ...sentinels!.map(({ raw, id }) => ({ what: `sentinel ${id}`, raw: is(raw), reason: null })),
    ...outside.map((raw) => ({ what: `${raw}, outside its range`, raw: is(raw), reason: "value-out-of-range" })),
  ];
}

function nameCases({ names, width }: CompiledField): Case[] {
  const known = names!.map(({ raw }) => raw);
  const edges = known.flatMap((raw) => [raw - 1, raw + 1]);
  const outside = distinct([0, ...edges, 2 ** width - 1]).filter(
    (raw) => raw >= 0 && raw < 2 ** width && !known.includes(raw),
  );
  return [
    ...names!.map(({ raw, id }) => ({ what: `name ${id}`, raw: is(raw), reason: null })),
    ...outside.map((raw) => ({ what: `${raw}, which has no name`, raw: is(raw), reason: "name-unknown" })),
  ];
}

function flagCases({ flags, named, width }: CompiledField): Case[] {
  const unnamed = range(0, width).filter((bit) => !flags!.some((flag) => flag.bit === bit));
  return [
    { what: "no flag", raw: is(0), reason: null },
    { what: "every flag", raw: is(named!), reason: null },
    ...flags!.map(({ bit, id }) => ({ what: `flag ${id} alone`, raw: is(2 ** bit), reason: null })),
    ...unnamed.map((bit) => ({ what: `bit ${bit}, which has no name`, raw: is(2 ** bit), reason: "reserved-bit-set" })),
  ];
}

function constantCases({ raw, role, width }: CompiledField): Case[] {
  const as = { what: `${raw}`, raw: is(raw!), reason: null };
  if (role === "marker") {
    const flipped = range(0, width).map((bit) => (raw! ^ (2 ** bit)) >>> 0);
    return [as, ...flipped.map((value) => ({ what: `${value}`, raw: is(value), reason: "marker-mismatch" }))];
  }
  const reason = role === "kind" ? "kind-unexpected" : "layout-unknown";
  const others = range(0, 2 ** width).filter((value) => value !== raw);
  return [as, ...others.map((value) => ({ what: `${value}`, raw: is(value), reason }))];
}

function reservedCases({ width }: CompiledField): Case[] {
  const bits = range(0, width).map((bit) => ({ what: `reserved bit ${bit}`, raw: is(2 ** bit) }));
  const all = { what: "every reserved bit", raw: is(2 ** width - 1) };
  return [...bits, ...(width > 1 ? [all] : [])].map((one) => ({ ...one, reason: "reserved-bit-set" }));
}

function casesOf(field: CompiledField): Case[] {
  switch (field.type) {
    case "unsigned":
    case "signed":
      return numberCases(field);
    case "enumeration":
      return nameCases(field);
    case "flags":
      return flagCases(field);
    case "constant":
      return constantCases(field);
    case "reserved":
      return reservedCases(field);
    case "checksum":
      return [];
  }
}

// Which types a message may have is judged by messages.ts.
const fields = layout.records.flatMap((record) => record.fields).filter(({ path }) => path !== "envelope.type");
const cases = new Map(fields.map((field) => [field.path, casesOf(field)]));
const textOf = (path: string, { what, reason }: Case) => `${path}: ${what}${reason ? ` [${reason}]` : ""}`;

export const fieldGroup: Group = {
  name: "fields: ends, sentinels, names, reserved bits",
  wanted: [...cases].flatMap(([path, all]) => all.map((one) => textOf(path, one))),
  shown(files) {
    const shown = new Set<string>();
    const show = (path: string, raw: number | undefined, reason: string | null) => {
      if (raw === undefined) return;
      for (const one of cases.get(path) ?? []) {
        if (one.reason === reason && one.raw(raw)) shown.add(textOf(path, one));
      }
    };
    const all = [...memoryRecords(files), ...payloads(files)];
    for (const { record, bytes, vector } of all.filter(({ vector }) => !vector.expected.also)) {
      const { reason = null, path = "" } = vector.expected;
      for (const field of record.fields) {
        if (reason === null || path === field.path || path.startsWith(`${field.path}.`)) {
          show(field.path, rawIn(bytes, field), reason);
        }
      }
    }
    for (const { vector } of payloads(files)) {
      if (vector.expected.verdict === "good") show("envelope.request", vector.expected.request as number, null);
    }
    return shown;
  },
};
