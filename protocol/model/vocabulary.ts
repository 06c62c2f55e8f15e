/**
 * The words a specification is written in. A specification is data: object literals of these types, no code.
 *
 * A field is a slice of one container word (width, byte order, bits), never a run of bits across containers.
 * Bits are numbered from 0, the least significant bit of the container.
 */
import type { ChecksumId } from "./checksums.ts";
import type { UnitId } from "./units.ts";

/** Container widths in bits. A 64-bit container may carry slices of at most 53 bits, so that every raw value is a safe integer. */
export type ContainerBits = 8 | 16 | 32 | 64;

/** Byte order of a container; Gen2 memory and the link are big-endian throughout. */
export type ByteOrder = "big" | "little";

/** Where a slice lies: first byte of its container within the record, the container's width, and the slice `[msb, lsb]`. */
export interface Slice {
  readonly at: number;
  readonly container: ContainerBits;
  readonly order?: ByteOrder;
  readonly bits: readonly [msb: number, lsb: number];
}

/** Physical value = (raw · num + add) / den, in the field's unit; all three are integers. */
export interface Scale {
  readonly num: number;
  readonly den: number;
  readonly add?: number;
}

/** How a physical value becomes the nearest raw integer. */
export type Rounding = "half-away-from-zero" | "floor";

/** What an encoder does with a physical value outside the range. */
export type OutOfRange = "reject" | "saturate";

/** Who writes a word in service. */
export type Writer = "factory" | "firmware" | "reader" | "kit" | "host";

/** Lock state expected in service, by the words of Gen2's Lock command. */
export type LockState = "unlocked" | "password-write" | "password-read-write" | "permanent" | "none";

/** A raw value that stands for something other than a number: nothing at all, or "at least the highest value". */
export interface Sentinel {
  readonly raw: number;
  readonly id: string;
  readonly means: "absent" | "saturated";
}

/** One bit of a flags field. */
export interface Flag {
  readonly bit: number;
  readonly id: string;
  readonly why: string;
}

/** One named value of an enumeration. */
export interface Name {
  readonly raw: number;
  readonly id: string;
  readonly why?: string;
}

interface FieldBase extends Slice {
  readonly id: string;
  /** One sentence: why the field exists. */
  readonly why: string;
  /** Raw value after a cold start, or "kept" (non-volatile) or "computed" (made from other words). */
  readonly coldStart?: number | "kept" | "computed";
  /** Overrides of what the region says. */
  readonly writer?: Writer;
  readonly lock?: LockState;
}

/** A number: unsigned or two's complement, with unit, scale and valid raw range. */
export interface NumberField extends FieldBase {
  readonly type: "unsigned" | "signed";
  readonly unit: UnitId;
  readonly scale: Scale;
  readonly rounding: Rounding;
  readonly outOfRange: OutOfRange;
  readonly range: readonly [min: number, max: number];
  readonly sentinels?: readonly Sentinel[];
}

/** Independent bits; every bit of the slice is either named or must be zero. */
export interface FlagsField extends FieldBase {
  readonly type: "flags";
  readonly flags: readonly Flag[];
}

/** A closed list of named values; any other value is an error. */
export interface EnumerationField extends FieldBase {
  readonly type: "enumeration";
  readonly names: readonly Name[];
}

/** A value that is always the same; the role says which reason another value is given. */
export interface ConstantField extends FieldBase {
  readonly type: "constant";
  readonly raw: number;
  readonly role: "marker" | "kind" | "layout";
}

/** Bits kept for later: zero when written, an error when not zero. */
export interface ReservedField extends FieldBase {
  readonly type: "reserved";
}

/** A checksum over bytes `[first, last]` of the same record, both included. */
export interface ChecksumField extends FieldBase {
  readonly type: "checksum";
  readonly algorithm: ChecksumId;
  readonly over: readonly [first: number, last: number];
}

/** A run of equal elements inside the fixed part; each element is one container. */
export interface ArrayField {
  readonly type: "array";
  readonly id: string;
  readonly why: string;
  readonly at: number;
  readonly count: number;
  readonly container: 8 | 16 | 32;
  readonly order?: ByteOrder;
  readonly element: Omit<NumberField, keyof FieldBase | "coldStart">;
  readonly coldStart?: number | "kept" | "computed";
  readonly writer?: Writer;
  readonly lock?: LockState;
}

/** A run of elements after the fixed part, as many as an earlier field says. */
export interface TailArray {
  readonly id: string;
  readonly why: string;
  readonly container: 8 | 16;
  readonly order?: ByteOrder;
  /** Id of the unsigned field that holds the number of elements. */
  readonly count: string;
}

export type FieldSpec =
  | NumberField
  | FlagsField
  | EnumerationField
  | ConstantField
  | ReservedField
  | ChecksumField
  | ArrayField;

/** A record: a fixed part of `bytes` bytes, then at most two tails. */
export interface RecordSpec {
  readonly id: string;
  readonly title: string;
  readonly why: string;
  readonly bytes: number;
  readonly fields: readonly FieldSpec[];
  readonly tails?: readonly TailArray[];
}

/** A record placed in a bank. `record: null` is a stretch of words this tag does not implement. */
export interface Region {
  readonly id: string;
  readonly word: number;
  readonly record: string | null;
  readonly words: number;
  readonly writer: Writer;
  readonly lock: LockState;
  readonly why: string;
}

/** One memory bank of a Gen2 tag, by word address. */
export interface BankSpec {
  readonly id: string;
  readonly number: 0 | 1 | 2 | 3;
  readonly title: string;
  readonly words: number;
  readonly regions: readonly Region[];
}

/** A message of the link: its type octet and its payload record. */
export interface MessageSpec {
  readonly id: string;
  readonly code: number;
  readonly direction: "to-kit" | "to-host";
  /** For a request: the message that answers it. */
  readonly answer?: string;
  readonly record: string;
}

/** The whole specification. */
export interface Specification {
  readonly name: string;
  /** The layout version every sealed record carries in four bits. */
  readonly layout: number;
  readonly records: readonly RecordSpec[];
  readonly banks: readonly BankSpec[];
  readonly messages: readonly MessageSpec[];
}
