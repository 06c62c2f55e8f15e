/**
 * How LLRP's messages and parameters are written down as data, and what decoded ones look like. LLRP is GS1's open Low
 * Level Reader Protocol; names of messages, parameters and fields are the standard's own.
 */

/** Array types of the standard: a 16-bit count, then that many bits, bytes, UTF-8 bytes, words or double words. */
export type ArrayType = "u1v" | "u8v" | "utf8v" | "u16v" | "u32v";

/** One field. Bits run from the most significant bit of the first byte on; only arrays and `rest` have no fixed width. */
export interface LlrpField {
  /** null: reserved bits, written as 0 and not looked at. */
  readonly name: string | null;
  /** `hex`: bytes kept as they are; `rest`: the same up to the end of the message or parameter. */
  readonly type: "unsigned" | "signed" | "hex" | "rest" | ArrayType;
  /** Width of a fixed field; 0 for the others. */
  readonly bits: number;
}

/** Parameters that may stand in a place: any of `names`, `min` to `max` of them altogether. */
export interface Place {
  readonly names: readonly string[];
  readonly min: number;
  readonly max: number;
}

interface ElementSpec {
  readonly name: string;
  readonly type: number;
  readonly fields: readonly LlrpField[];
  readonly places: readonly Place[];
}

export type LlrpMessageSpec = ElementSpec;

export interface LlrpParameterSpec extends ElementSpec {
  /** TV: one byte of type and a value of fixed size; TLV: type, length, value. */
  readonly form: "tv" | "tlv";
}

/** Bits, most significant first; the last byte is filled up with zeros. */
export interface BitArray {
  readonly bits: number;
  /** Lower-case hex. */
  readonly hex: string;
}

/** Integers up to 32 bits are numbers, 64 bits bigints; bytes are lower-case hex, `utf8v` is text. */
export type LlrpValue = number | bigint | string | BitArray | readonly number[];

export type LlrpValues = { readonly [field: string]: LlrpValue };

/** A message's or parameter's content. */
export interface LlrpElement {
  readonly name: string;
  readonly values: LlrpValues;
  readonly parameters: readonly LlrpElement[];
}

/** A parameter whose type this program does not know, skipped by its length. */
export interface Skipped {
  readonly type: number;
  /** Counted from the message's first byte. */
  readonly byte: number;
}

export interface LlrpMessage extends LlrpElement {
  /** 1: LLRP 1.0.1, 2: LLRP 1.1. */
  readonly version: number;
  readonly id: number;
  readonly skipped: readonly Skipped[];
}

/**
 * Fields from a text such as `ROSpecID:u32 On:u1 _:7`: `uN` and `sN` are N bits, `_:N` reserved bits, `hN` N bits kept as
 * hex, `rest` what is left, and the array types by their name. Throws an Error for anything else.
 */
export function fieldsOf(text: string): LlrpField[] {
  return words(text).map((word) => {
    const [, name, kind] = /^(\w+):(\w+)$/.exec(word) ?? [];
    if (name === undefined || kind === undefined) throw new Error(`${word} is no field`);
    if (/^(u1v|u8v|utf8v|u16v|u32v|rest)$/.test(kind)) return { name, type: kind as ArrayType | "rest", bits: 0 };
    const [, letter, digits] = /^([ush]?)(\d+)$/.exec(kind) ?? [];
    if (digits === undefined) throw new Error(`${kind} is no type`);
    const type = letter === "s" ? "signed" : letter === "h" ? "hex" : "unsigned";
    return { name: name === "_" ? null : name, type, bits: Number(digits) };
  });
}

/** Places from a text such as `LLRPStatus A? B* C|D+`. */
export function placesOf(text: string): Place[] {
  return words(text).map((word) => {
    const [, names, sign] = /^([\w|-]+?)([?*+]?)$/.exec(word)!;
    const min = sign === "?" || sign === "*" ? 0 : 1;
    return { names: names!.split("|"), min, max: sign === "*" || sign === "+" ? Number.POSITIVE_INFINITY : 1 };
  });
}

function words(text: string): string[] {
  return text.match(/\S+/g) ?? [];
}

/** The first parameter of a name directly in an element. */
export function parameterOf(element: LlrpElement, name: string): LlrpElement | undefined {
  return element.parameters.find((parameter) => parameter.name === name);
}

/** An integer of up to 32 bits by its field's name. Throws an Error when the element has no such field. */
export function numberOf(element: LlrpElement, field: string): number {
  const value = element.values[field];
  if (typeof value !== "number") throw new Error(`${element.name} has no number ${field}`);
  return value;
}

/** An element ready to be encoded. */
export function element(name: string, values: LlrpValues = {}, parameters: readonly LlrpElement[] = []): LlrpElement {
  return { name, values, parameters };
}
