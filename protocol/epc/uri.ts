/** EPC from tag URI to memory, by GS1 TDS 2.3. */
import type { Fault, Reason } from "../model/reasons.ts";
import { partitionOf, pathOf, type Scheme, schemes } from "./schemes.ts";

const START = "urn:epc:tag:";

/** Longest number any field holds: 2^62 − 1 has 19 digits. */
const LONGEST = 19;

interface Part {
  readonly text: string;
  /** Index of its first character in the URI. */
  readonly place: number;
  readonly path: string;
}

/**
 * Hex (24 lower-case digits) of `urn:epc:tag:<scheme>:<filter>.<company prefix>.<reference>[.<serial>]` for SGTIN-96,
 * GRAI-96 and GIAI-96. Control fields in square brackets are not accepted: they are no part of the EPC.
 * In a fault `byte` is the index of the offending character and `bit` is null.
 */
export function encodeEpc(tagUri: string): string | Fault {
  if (!tagUri.startsWith(START)) return fault("epc-field-malformed", "epc.uri", 0, `${START}…`, tagUri);
  const colon = tagUri.indexOf(":", START.length);
  const end = colon < 0 ? tagUri.length : colon;
  const id = tagUri.slice(START.length, end);
  const scheme = schemes.find((candidate) => candidate.id === id);
  if (!scheme) {
    const known = schemes.map((candidate) => candidate.id).join(", ");
    return fault("epc-header-unknown", "epc.scheme", START.length, known, id);
  }
  const parts = partsOf(tagUri, colon < 0 ? end : end + 1, scheme);
  if (!Array.isArray(parts)) return parts;
  const [filter, prefix, reference, serial] = parts as [Part, Part, Part, Part?];
  const partition = 12 - prefix.text.length;
  const wrong = wrongDigits(filter, 1, 1) ?? wrongDigits(prefix, 6, 12) ?? tooLarge(filter, 3);
  if (wrong) return wrong;
  const { prefixBits, referenceBits, referenceDigits } = partitionOf(scheme, partition);
  const wrongReference =
    referenceDigits === null
      ? wrongNumber(reference, referenceBits)
      : wrongDigits(reference, referenceDigits, referenceDigits);
  if (wrongReference) return wrongReference;
  const wrongSerial = serial && wrongNumber(serial, scheme.serialBits);
  if (wrongSerial) return wrongSerial;

  let epc = BigInt(scheme.header);
  epc = (epc << 3n) | BigInt(filter.text);
  epc = (epc << 3n) | BigInt(partition);
  epc = (epc << BigInt(prefixBits)) | BigInt(prefix.text);
  epc = (epc << BigInt(referenceBits)) | BigInt(reference.text);
  epc = (epc << BigInt(scheme.serialBits)) | BigInt(serial?.text ?? 0);
  return epc.toString(16);
}

function partsOf(tagUri: string, from: number, scheme: Scheme): Part[] | Fault {
  const names = ["filter", "company_prefix", scheme.reference, ...(scheme.serialBits ? ["serial"] : [])];
  const texts = tagUri.slice(from).split(".");
  if (texts.length !== names.length) {
    const expected = `${names.length} parts: ${names.join(".")}`;
    return fault("epc-field-malformed", pathOf(scheme, "uri"), from, expected, `${texts.length} parts`);
  }
  let place = from;
  return texts.map((text, i) => {
    const part = { text, place, path: pathOf(scheme, names[i]!) };
    place += text.length + 1;
    return part;
  });
}

function wrongDigits(part: Part, fewest: number, most: number): Fault | undefined {
  const odd = part.text.search(/[^0-9]/);
  if (odd >= 0) return fault("epc-field-malformed", part.path, part.place + odd, "a digit", part.text[odd]!);
  if (part.text.length >= fewest && part.text.length <= most) return undefined;
  const expected = fewest === most ? `${most} digits` : `${fewest} to ${most} digits`;
  return fault("epc-field-malformed", part.path, part.place, expected, `${part.text.length} digits`);
}

function wrongNumber(part: Part, bits: number): Fault | undefined {
  const wrong = wrongDigits(part, 1, Number.POSITIVE_INFINITY);
  if (wrong) return wrong;
  if (part.text.length > 1 && part.text.startsWith("0")) {
    return fault("epc-field-malformed", part.path, part.place, "no leading zero", part.text);
  }
  return tooLarge(part, bits);
}

function tooLarge(part: Part, bits: number): Fault | undefined {
  const limit = (1n << BigInt(bits)) - 1n;
  if (part.text.length <= LONGEST && BigInt(part.text) <= limit) return undefined;
  return fault("epc-field-too-large", part.path, part.place, `at most ${limit}`, part.text);
}

function fault(code: Reason, path: string, place: number, expected: string, actual: string): Fault {
  const shown = actual.length > 60 ? `${actual.slice(0, 60)}…` : actual;
  return { code, byte: place, bit: null, path, expected, actual: shown };
}
