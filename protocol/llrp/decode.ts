/** LLRP messages from bytes, by the tables of messages and parameters. */
import { formatHex } from "../bytes/hex.ts";
import type { Fault, Reason } from "../model/reasons.ts";
import { HEADER_BYTES, readHeader, VERSIONS } from "./header.ts";
import { messageByType } from "./messages.ts";
import { CUSTOM, parameterByType } from "./parameters.ts";
import type { LlrpElement, LlrpField, LlrpMessage, LlrpValue, Place, Skipped } from "./vocabulary.ts";

/** Parameters nested deeper than any the standard has; only ParameterError may contain itself. */
const MAX_DEPTH = 16;

/** Thrown inside this file only. */
class Refusal {
  readonly fault: Fault;
  constructor(code: Reason, byte: number, path: string, expected: string, actual: string, bit: number | null = null) {
    this.fault = { code, byte, bit, path, expected, actual };
  }
}

/**
 * The message that `bytes` hold, no more and no less. Bytes of faults are counted from its first byte; the path is made of
 * the names of message, parameters and field. Unknown TLV parameters are skipped by their length and listed; an unknown TV
 * parameter has no length and is a fault. Reserved bits of fields are not looked at.
 */
export function decodeLlrp(bytes: Uint8Array): LlrpMessage | Fault {
  try {
    return new Decoder(bytes).message();
  } catch (refusal) {
    if (refusal instanceof Refusal) return refusal.fault;
    throw refusal;
  }
}

class Decoder {
  readonly #bytes: Uint8Array;
  readonly #view: DataView;
  readonly #skipped: Skipped[] = [];
  #at = 0;
  /** Bits of the byte at `#at` that are read. */
  #bit = 0;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  }

  message(): LlrpMessage {
    const { length: given } = this.#bytes;
    if (given < HEADER_BYTES) {
      throw new Refusal("record-too-short", given, "header", `${HEADER_BYTES} bytes`, `${given} bytes`);
    }
    const header = readHeader(this.#bytes);
    if ("code" in header) {
      throw new Refusal(header.code, header.byte, header.path, header.expected, header.actual, header.bit);
    }
    const { version, type, length, id } = header;
    if (!VERSIONS.includes(version)) {
      throw new Refusal("llrp-version-unsupported", 0, "header.version", VERSIONS.join(" or "), `${version}`);
    }
    const spec = messageByType(type);
    if (!spec) throw new Refusal("message-unknown", 0, "header.type", "a message of LLRP", `${type}`);
    if (given < length) throw new Refusal("record-too-short", given, spec.name, `${length} bytes`, `${given} bytes`);
    if (given > length) throw new Refusal("trailing-bytes", length, spec.name, `${length} bytes`, `${given} bytes`);
    this.#at = HEADER_BYTES;
    const values = this.#values(spec.fields, length, spec.name);
    const parameters = this.#parameters(spec.places, length, spec.name, 0);
    return { name: spec.name, version, id, values, parameters, skipped: this.#skipped };
  }

  #parameters(places: readonly Place[], end: number, path: string, depth: number): LlrpElement[] {
    const start = this.#at;
    const counts = places.map(() => 0);
    const found: LlrpElement[] = [];
    while (this.#at < end) {
      const at = this.#at;
      const parameter = this.#parameter(end, path, depth);
      if (!parameter) continue;
      found.push(parameter);
      if (parameter.name === CUSTOM) continue;
      const index = places.findIndex(({ names }) => names.includes(parameter.name));
      if (index < 0) {
        const allowed = places.flatMap(({ names }) => names).join(", ") || "none";
        throw new Refusal("llrp-parameter-unexpected", at, path, allowed, parameter.name);
      }
      if (++counts[index]! > places[index]!.max) {
        throw new Refusal("llrp-parameter-unexpected", at, path, `one ${parameter.name}`, "a second");
      }
    }
    const missing = places.find(({ min }, index) => counts[index]! < min);
    if (missing) throw new Refusal("field-missing", start, path, missing.names.join(" or "), "none");
    return found;
  }

  /** The parameter at `#at`, or null when its type is unknown and it was skipped. */
  #parameter(end: number, path: string, depth: number): LlrpElement | null {
    const at = this.#at;
    if (depth >= MAX_DEPTH) throw new Refusal("llrp-parameter-unexpected", at, path, `${MAX_DEPTH} levels`, "more");
    return this.#bytes[at]! >= 0x80 ? this.#tv(end, path) : this.#tlv(end, path, depth);
  }

  #tv(end: number, path: string): LlrpElement {
    const at = this.#at;
    const type = this.#bytes[at]! & 0x7f;
    const spec = parameterByType("tv", type);
    if (!spec) {
      throw new Refusal("llrp-parameter-unknown", at, path, "a type whose size is known", `TV parameter ${type}`);
    }
    this.#at++;
    return { name: spec.name, values: this.#values(spec.fields, end, `${path}.${spec.name}`), parameters: [] };
  }

  #tlv(end: number, path: string, depth: number): LlrpElement | null {
    const at = this.#at;
    if (end - at < 4) throw new Refusal("llrp-length-invalid", at, path, "4 bytes of a header", `${end - at}`);
    const first = this.#view.getUint16(at);
    if (first >> 10 !== 0) throw new Refusal("reserved-bit-set", at, path, "0", `${first >> 10}`);
    const length = this.#view.getUint16(at + 2);
    const spec = parameterByType("tlv", first);
    const inside = `${path}.${spec?.name ?? first}`;
    if (length < 4 || length > end - at) {
      throw new Refusal("llrp-length-invalid", at + 2, inside, `4 to ${end - at} bytes`, `${length}`);
    }
    if (!spec) {
      this.#skipped.push({ type: first, byte: at });
      this.#at = at + length;
      return null;
    }
    this.#at = at + 4;
    const values = this.#values(spec.fields, at + length, inside);
    return { name: spec.name, values, parameters: this.#parameters(spec.places, at + length, inside, depth + 1) };
  }

  #values(fields: readonly LlrpField[], end: number, path: string): { [field: string]: LlrpValue } {
    const values: { [field: string]: LlrpValue } = {};
    for (const field of fields) {
      const value = this.#value(field, end, `${path}.${field.name ?? "reserved"}`);
      if (field.name !== null) values[field.name] = value;
    }
    return values;
  }

  #value({ type, bits }: LlrpField, end: number, path: string): LlrpValue {
    if (type === "rest") return this.#hex(end - this.#at, end, path);
    if (type === "hex") return this.#hex(bits / 8, end, path);
    if (type === "unsigned" || type === "signed") return this.#integer(bits, type === "signed", end, path);
    const at = this.#at;
    const count = this.#integer(16, false, end, path) as number;
    const width = { u1v: 1, u8v: 8, utf8v: 8, u16v: 16, u32v: 32 }[type];
    const size = Math.ceil((count * width) / 8);
    if (size > end - this.#at) {
      throw new Refusal("count-mismatch", at, path, `${size} bytes`, `${end - this.#at} bytes`);
    }
    if (type === "u1v") return { bits: count, hex: this.#hex(size, end, path) };
    if (type === "u8v") return this.#hex(size, end, path);
    if (type === "utf8v") return new TextDecoder().decode(this.#bytes.subarray(this.#at, (this.#at += size)));
    return Array.from({ length: count }, () => this.#integer(width, false, end, path) as number);
  }

  #hex(size: number, end: number, path: string): string {
    this.#need(size, end, path);
    return formatHex(this.#bytes, this.#at, (this.#at += size));
  }

  #integer(bits: number, signed: boolean, end: number, path: string): number | bigint {
    this.#need(Math.ceil((this.#bit + bits) / 8), end, path);
    if (bits === 64) return this.#view.getBigUint64((this.#at += 8) - 8);
    let value = 0;
    for (let i = 0; i < bits; i++) {
      value = value * 2 + ((this.#bytes[this.#at]! >> (7 - this.#bit)) & 1);
      if (++this.#bit === 8) {
        this.#bit = 0;
        this.#at++;
      }
    }
    return signed && value >= 2 ** (bits - 1) ? value - 2 ** bits : value;
  }

  #need(size: number, end: number, path: string): void {
    if (size <= end - this.#at) return;
    throw new Refusal("llrp-length-invalid", this.#at, path, `${size} bytes`, `${end - this.#at} bytes`);
  }
}
