/** LLRP messages to bytes, by the tables of messages and parameters. */
import { parseHex } from "../bytes/hex.ts";
import type { Fault, Reason } from "../model/reasons.ts";
import { MAX_MESSAGE } from "./header.ts";
import { messageByName } from "./messages.ts";
import { CUSTOM, parameterByName } from "./parameters.ts";
import type { BitArray, LlrpElement, LlrpField, LlrpValue, Place } from "./vocabulary.ts";

/** Thrown inside this file only. */
class Refusal {
  readonly fault: Fault;
  constructor(code: Reason, byte: number, path: string, expected: string, actual: string) {
    this.fault = { code, byte, bit: null, path, expected, actual };
  }
}

/**
 * Bytes of a message; `version` 1 is LLRP 1.0.1, 2 is 1.1; reserved bits are 0. A fault names what is missing, out of range
 * or out of place, with the byte at which it would have stood.
 */
export function encodeLlrp(content: LlrpElement, version: number, id: number): Uint8Array | Fault {
  try {
    return encodeMessage(content, version, id);
  } catch (refusal) {
    if (refusal instanceof Refusal) return refusal.fault;
    throw refusal;
  }
}

function encodeMessage(content: LlrpElement, version: number, id: number): Uint8Array {
  const spec = messageByName(content.name);
  if (!spec) throw new Refusal("message-unknown", 0, content.name, "a message of LLRP", content.name);
  const out = new Writer();
  out.integer(0, 3, "header.reserved");
  out.integer(version, 3, "header.version");
  out.integer(spec.type, 10, "header.type");
  out.integer(0, 32, "header.length");
  out.integer(id, 32, "header.id");
  writeFields(out, spec.fields, content, spec.name);
  writeParameters(out, spec.places, content, spec.name);
  if (out.length > MAX_MESSAGE) {
    throw new Refusal("llrp-length-invalid", 2, "header.length", `at most ${MAX_MESSAGE} bytes`, `${out.length}`);
  }
  out.setLength(2, out.length, 4);
  return out.bytes();
}

function writeParameters(out: Writer, places: readonly Place[], content: LlrpElement, path: string): void {
  for (const { names, min, max } of places) {
    const count = content.parameters.filter(({ name }) => names.includes(name)).length;
    if (count < min) throw new Refusal("field-missing", out.length, path, names.join(" or "), "none");
    if (count > max) throw new Refusal("llrp-parameter-unexpected", out.length, path, `one ${names[0]}`, `${count}`);
  }
  for (const parameter of content.parameters) {
    const { name } = parameter;
    const spec = parameterByName(name);
    if (!spec || (name !== CUSTOM && !places.some(({ names }) => names.includes(name)))) {
      const allowed = places.flatMap(({ names }) => names).join(", ") || "none";
      throw new Refusal("llrp-parameter-unexpected", out.length, path, allowed, name);
    }
    const start = out.length;
    if (spec.form === "tv") out.integer(0x80 + spec.type, 8, name);
    else out.integer(spec.type * 65_536, 32, name);
    writeFields(out, spec.fields, parameter, `${path}.${name}`);
    writeParameters(out, spec.places, parameter, `${path}.${name}`);
    if (spec.form === "tv") continue;
    const length = out.length - start;
    if (length > 0xffff)
      throw new Refusal("llrp-length-invalid", start + 2, `${path}.${name}`, "at most 65535", `${length}`);
    out.setLength(start + 2, length, 2);
  }
}

function writeFields(out: Writer, fields: readonly LlrpField[], content: LlrpElement, path: string): void {
  for (const { name, type, bits } of fields) {
    if (name === null) {
      out.integer(0, bits, path);
      continue;
    }
    const place = `${path}.${name}`;
    const value = content.values[name];
    if (value === undefined) throw new Refusal("field-missing", out.length, place, "a value", "none");
    if (type === "unsigned" || type === "signed") out.integer(value, bits, place, type === "signed");
    else writeBytes(out, type, bits, value, place);
  }
}

function writeBytes(
  out: Writer,
  type: Exclude<LlrpField["type"], "unsigned" | "signed">,
  bits: number,
  value: LlrpValue,
  place: string,
): void {
  if (type === "u16v" || type === "u32v") {
    const list = Array.isArray(value) ? value : out.wrong(place, "a list of integers", value);
    out.integer(list.length, 16, place);
    for (const item of list) out.integer(item, type === "u16v" ? 16 : 32, place);
    return;
  }
  if (type === "utf8v") {
    const text = typeof value === "string" ? value : out.wrong(place, "a text", value);
    const bytes = new TextEncoder().encode(text);
    out.integer(bytes.length, 16, place);
    out.append(bytes);
    return;
  }
  const array = type === "u1v" ? (value as Partial<BitArray>) : null;
  const bytes = parseHex(array ? (array.hex ?? "?") : typeof value === "string" ? value : "?");
  if ("code" in bytes) out.wrong(place, "hex", value);
  const fits = array ? bytes.length === Math.ceil(array.bits! / 8) : type !== "hex" || bytes.length * 8 === bits;
  if (!fits) out.wrong(place, array ? `${array.bits} bits` : `${bits} bits`, `${bytes.length} bytes`);
  if (type === "u1v") out.integer(array!.bits!, 16, place);
  if (type === "u8v") out.integer(bytes.length, 16, place);
  out.append(bytes);
}

/** Bytes under way, bit by bit where a field is no whole byte. */
class Writer {
  readonly #bytes: number[] = [];
  #bit = 0;

  get length(): number {
    return this.#bytes.length;
  }

  bytes(): Uint8Array {
    return Uint8Array.from(this.#bytes);
  }

  integer(value: LlrpValue, bits: number, place: string, signed = false): void {
    const low = signed ? -(2n ** BigInt(bits - 1)) : 0n;
    const high = 2n ** BigInt(signed ? bits - 1 : bits) - 1n;
    const whole = typeof value === "bigint" || (typeof value === "number" && Number.isSafeInteger(value));
    if (!whole || BigInt(value) < low || BigInt(value) > high) this.wrong(place, `${low} to ${high}`, value);
    const raw = BigInt.asUintN(bits, BigInt(value));
    for (let i = bits - 1; i >= 0; i--) {
      if (this.#bit === 0) this.#bytes.push(0);
      this.#bytes[this.#bytes.length - 1]! |= Number((raw >> BigInt(i)) & 1n) << (7 - this.#bit);
      this.#bit = (this.#bit + 1) % 8;
    }
  }

  append(bytes: Uint8Array): void {
    for (const byte of bytes) this.#bytes.push(byte);
  }

  setLength(at: number, value: number, size: number): void {
    for (let i = 0; i < size; i++) this.#bytes[at + i] = Math.floor(value / 256 ** (size - 1 - i)) % 256;
  }

  wrong(place: string, expected: string, actual: unknown): never {
    const found = typeof actual === "object" ? JSON.stringify(actual) : String(actual);
    const byte = this.#bit === 0 ? this.length : this.length - 1;
    throw new Refusal("value-out-of-range", byte, place, expected, found.slice(0, 60));
  }
}
