/** EPC from memory to identity: the bits of a 96-bit EPC to its fields, tag URI and pure identity URI, by GS1 TDS 2.3. */
import { formatHex, parseHex } from "../bytes/hex.ts";
import type { Fault, Reason } from "../model/reasons.ts";
import {
  EPC_BYTES,
  FILTER_AT,
  PARTITION_AT,
  type Partition,
  PREFIX_AT,
  partitionOf,
  pathOf,
  type Scheme,
  schemes,
} from "./schemes.ts";

interface Common {
  /** 0 to 7; which packaging level or kind of asset, not part of the identity. */
  readonly filter: number;
  /** 6 to 12 digits, leading zeros kept. */
  readonly companyPrefix: string;
  /** `urn:epc:tag:…`: with the filter, turns back into the same bits. */
  readonly tagUri: string;
  /** `urn:epc:id:…`: the identity alone. */
  readonly pureUri: string;
}

export interface Sgtin96 extends Common {
  readonly scheme: "sgtin-96";
  /** Indicator digit and item reference, 1 to 7 digits. */
  readonly itemReference: string;
  /** 0 to 2^38 − 1, no leading zeros. */
  readonly serial: string;
}

export interface Grai96 extends Common {
  readonly scheme: "grai-96";
  /** 0 to 6 digits; empty when the company prefix has 12. */
  readonly assetType: string;
  readonly serial: string;
}

export interface Giai96 extends Common {
  readonly scheme: "giai-96";
  /** An unpadded number that also tells one asset from another: this scheme has no serial. */
  readonly assetReference: string;
}

export type EpcIdentity = Sgtin96 | Grai96 | Giai96;

/**
 * Identity of an EPC given in hex: 24 digits, spaces and other separators allowed as in any hex text.
 * In a fault `byte` and `bit` name the most significant bit of the field concerned, `bit` within that byte; for a text
 * that is no hex, `byte` is the index of the character and `bit` is null.
 */
export function parseEpc(hex: string): EpcIdentity | Fault {
  const bytes = parseHex(hex);
  if (!(bytes instanceof Uint8Array)) {
    const { code, place, actual } = bytes;
    return { code, byte: place, bit: null, path: "epc", expected: "pairs of hex digits", actual };
  }
  if (bytes.length === 0) return lengthFault(0);
  const scheme = schemes.find(({ header }) => header === bytes[0]);
  if (!scheme) {
    const expected = schemes.map(({ header }) => header.toString(16)).join(", ");
    return fieldFault("epc-header-unknown", "epc.header", 0, expected, formatHex(bytes, 0, 1));
  }
  if (bytes.length !== EPC_BYTES) return lengthFault(bytes.length);
  const epc = BigInt(`0x${formatHex(bytes)}`);
  const partition = Number(bitsAt(epc, PARTITION_AT, 3));
  if (partition > 6) {
    return fieldFault("epc-partition-invalid", pathOf(scheme, "partition"), PARTITION_AT, "0 to 6", `${partition}`);
  }
  return readFields(epc, scheme, partitionOf(scheme, partition));
}

function readFields(epc: bigint, scheme: Scheme, partition: Partition): EpcIdentity | Fault {
  const { prefixBits, prefixDigits, referenceBits, referenceDigits } = partition;
  const filter = Number(bitsAt(epc, FILTER_AT, 3));
  const prefix = bitsAt(epc, PREFIX_AT, prefixBits);
  if (prefix >= 10n ** BigInt(prefixDigits)) {
    return tooLarge(pathOf(scheme, "company_prefix"), PREFIX_AT, prefixDigits, prefix);
  }
  const referenceAt = PREFIX_AT + prefixBits;
  const reference = bitsAt(epc, referenceAt, referenceBits);
  if (referenceDigits !== null && reference >= 10n ** BigInt(referenceDigits)) {
    return tooLarge(pathOf(scheme, scheme.reference), referenceAt, referenceDigits, reference);
  }
  const companyPrefix = prefix.toString().padStart(prefixDigits, "0");
  const referenceText = referenceDigits === 0 ? "" : reference.toString().padStart(referenceDigits ?? 1, "0");
  const serial = bitsAt(epc, referenceAt + referenceBits, scheme.serialBits).toString();
  const identity = [companyPrefix, referenceText, ...(scheme.serialBits ? [serial] : [])].join(".");
  const common = {
    filter,
    companyPrefix,
    tagUri: `urn:epc:tag:${scheme.id}:${filter}.${identity}`,
    pureUri: `urn:epc:id:${scheme.name}:${identity}`,
  };
  switch (scheme.id) {
    case "sgtin-96":
      return { scheme: scheme.id, ...common, itemReference: referenceText, serial };
    case "grai-96":
      return { scheme: scheme.id, ...common, assetType: referenceText, serial };
    case "giai-96":
      return { scheme: scheme.id, ...common, assetReference: referenceText };
  }
}

function bitsAt(epc: bigint, first: number, width: number): bigint {
  return (epc >> BigInt(EPC_BYTES * 8 - first - width)) & ((1n << BigInt(width)) - 1n);
}

function lengthFault(length: number): Fault {
  const byte = Math.min(length, EPC_BYTES);
  return {
    code: "epc-length-invalid",
    byte,
    bit: null,
    path: "epc",
    expected: `${EPC_BYTES} bytes`,
    actual: `${length} bytes`,
  };
}

function tooLarge(path: string, first: number, digits: number, found: bigint): Fault {
  return fieldFault("epc-field-too-large", path, first, `at most ${digits} digits`, `${found}`);
}

function fieldFault(code: Reason, path: string, first: number, expected: string, actual: string): Fault {
  return { code, byte: first >> 3, bit: 7 - (first & 7), path, expected, actual };
}
