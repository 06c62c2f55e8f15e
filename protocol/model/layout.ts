/**
 * The compiled layout: the specification with every default filled in and every array unrolled, which is all that codecs
 * and emitters ever see. Plain data: `protocol/emitted/layout.json` is this object with the address of every field beside it.
 */
import type { CompiledSlice } from "../bytes/container.ts";
import { fingerprint } from "./canonical.ts";
import { check } from "./check.ts";
import type { ChecksumId } from "./checksums.ts";
import { unitSymbol } from "./units.ts";
import type {
  BankSpec,
  FieldSpec,
  Flag,
  LockState,
  MessageSpec,
  Name,
  NumberField,
  OutOfRange,
  RecordSpec,
  Rounding,
  Sentinel,
  Specification,
  Writer,
} from "./vocabulary.ts";

export type FieldType = "unsigned" | "signed" | "flags" | "enumeration" | "constant" | "reserved" | "checksum";

/** One slice with everything the specification says of it; members that do not apply to its type are absent. */
export interface CompiledField extends CompiledSlice {
  readonly id: string;
  /** `record.field` or `record.array[index]`. */
  readonly path: string;
  readonly type: FieldType;
  readonly why: string;
  readonly coldStart: number | "kept" | "computed" | null;
  /** Overrides of the region's writer and lock. */
  readonly writer?: Writer;
  readonly lock?: LockState;
  /** Number. */
  readonly unit?: string;
  readonly num?: number;
  readonly den?: number;
  readonly add?: number;
  readonly rounding?: Rounding;
  readonly outOfRange?: OutOfRange;
  readonly min?: number;
  readonly max?: number;
  readonly sentinels?: readonly Sentinel[];
  /** Flags: the bits that are named. */
  readonly flags?: readonly Flag[];
  readonly named?: number;
  readonly names?: readonly Name[];
  /** Constant. */
  readonly raw?: number;
  readonly role?: "marker" | "kind" | "layout";
  /** Checksum over bytes `[first, last]` of the record. */
  readonly algorithm?: ChecksumId;
  readonly over?: readonly [first: number, last: number];
  /** Element of an array. */
  readonly array?: string;
  readonly index?: number;
}

export interface CompiledTail {
  readonly id: string;
  readonly path: string;
  readonly why: string;
  readonly bytes: number;
  readonly little: boolean;
  /** Index of the counting field in `fields`. */
  readonly count: number;
}

export interface CompiledRecord {
  readonly id: string;
  readonly title: string;
  readonly why: string;
  readonly bytes: number;
  readonly fields: readonly CompiledField[];
  readonly tails: readonly CompiledTail[];
}

export interface Layout {
  readonly name: string;
  readonly layout: number;
  readonly fingerprint: number;
  readonly records: readonly CompiledRecord[];
  readonly banks: readonly BankSpec[];
  readonly messages: readonly MessageSpec[];
}

/** Compiles a specification. Throws an Error that lists every problem when the specification is wrong. */
export function compile(specification: Specification): Layout {
  const problems = check(specification);
  if (problems.length > 0) {
    throw new Error(problems.map(({ code, path, says }) => `${path}: ${says} [${code}]`).join("\n"));
  }
  return layoutOf(specification);
}

/** The layout of a specification that has no problems; `compile` looks for them first. */
export function layoutOf(specification: Specification): Layout {
  const { name, layout, banks, messages } = specification;
  return {
    name,
    layout,
    fingerprint: fingerprint(specification),
    records: specification.records.map(compileRecord),
    banks,
    messages,
  };
}

/** The record of that id; throws when the layout has none, which is a programming error. */
export function recordOf(layout: Layout, id: string): CompiledRecord {
  const record = layout.records.find((candidate) => candidate.id === id);
  if (!record) throw new Error(`layout ${layout.layout} has no record ${id}`);
  return record;
}

/** Index of a field in its record; throws when there is none, which is a programming error. */
export function fieldIndex(record: CompiledRecord, id: string): number {
  const index = record.fields.findIndex((field) => field.id === id);
  if (index < 0) throw new Error(`record ${record.id} has no field ${id}`);
  return index;
}

function compileRecord(record: RecordSpec): CompiledRecord {
  const fields = record.fields.flatMap((field) => compileField(record.id, field));
  const tails = (record.tails ?? []).map(
    (tail): CompiledTail => ({
      id: tail.id,
      path: `${record.id}.${tail.id}`,
      why: tail.why,
      bytes: tail.container / 8,
      little: tail.order === "little",
      count: fields.findIndex(({ id }) => id === tail.count),
    }),
  );
  return { id: record.id, title: record.title, why: record.why, bytes: record.bytes, fields, tails };
}

function compileField(recordId: string, field: FieldSpec): CompiledField[] {
  const common = {
    why: field.why,
    coldStart: field.coldStart ?? null,
    little: field.order === "little",
    ...(field.writer && { writer: field.writer }),
    ...(field.lock && { lock: field.lock }),
  };
  const bytes = field.container / 8;
  if (field.type === "array") {
    return Array.from({ length: field.count }, (_, index) => ({
      id: `${field.id}[${index}]`,
      path: `${recordId}.${field.id}[${index}]`,
      type: field.element.type,
      byte: field.at + index * bytes,
      bytes,
      shift: 0,
      width: field.container,
      signed: field.element.type === "signed",
      ...common,
      ...quantity(field.element),
      array: field.id,
      index,
    }));
  }
  const [msb, lsb] = field.bits;
  const slice = {
    id: field.id,
    path: `${recordId}.${field.id}`,
    type: field.type,
    byte: field.at,
    bytes,
    shift: lsb,
    width: msb - lsb + 1,
    signed: field.type === "signed",
    ...common,
  };
  switch (field.type) {
    case "unsigned":
    case "signed":
      return [{ ...slice, ...quantity(field) }];
    case "flags":
      return [{ ...slice, flags: field.flags, named: field.flags.reduce((mask, { bit }) => mask | (1 << bit), 0) }];
    case "enumeration":
      return [{ ...slice, names: field.names }];
    case "constant":
      return [{ ...slice, raw: field.raw, role: field.role }];
    case "checksum":
      return [{ ...slice, algorithm: field.algorithm, over: field.over }];
    case "reserved":
      return [slice];
  }
}

function quantity(field: Omit<NumberField, "id" | "why" | "at" | "container" | "bits" | "order">) {
  return {
    unit: unitSymbol(field.unit),
    num: field.scale.num,
    den: field.scale.den,
    add: field.scale.add ?? 0,
    rounding: field.rounding,
    outOfRange: field.outOfRange,
    min: field.range[0],
    max: field.range[1],
    sentinels: field.sentinels ?? [],
  };
}
