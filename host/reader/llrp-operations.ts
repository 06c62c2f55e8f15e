/** Operations on a tag as LLRP writes them. */
import { parseHex } from "../../protocol/bytes/hex.ts";
import { element, type LlrpElement } from "../../protocol/llrp/vocabulary.ts";
import { type Fault, sentence } from "../../protocol/model/reasons.ts";
import { BANKS, LAST_WORD, opSpecIdOf, type WordPlace } from "./llrp-op-spec.ts";
import type { LockRequest, WordRange, WriteRequest } from "./reader.ts";
import { ReaderError } from "./reader-error.ts";

/** Throws a ReaderError for a place LLRP or this program's numbering cannot name. */
export function readOperation({ bank, word, count }: WordRange, password: number): LlrpElement {
  return element("C1G2Read", { ...placeOf("C1G2Read", { bank, word }), AccessPassword: password, WordCount: count });
}

/** `name`: C1G2Write or C1G2BlockWrite. Throws a ReaderError like `readOperation`. */
export function writeOperation(name: string, { bank, word, words, password = 0 }: WriteRequest): LlrpElement {
  return element(name, { ...placeOf(name, { bank, word }), AccessPassword: password, WriteData: words });
}

/** Null when the mask asks for one of the two bits of an area, which LLRP cannot say. */
export function lockOperation({ mask, action, password = 0 }: Omit<LockRequest, "epc">): LlrpElement | null {
  const payloads: LlrpElement[] = [];
  for (let field = 0; field < 5; field++) {
    const shift = 8 - 2 * field;
    const pair = (mask >> shift) & 0b11;
    if (pair === 0) continue;
    if (pair !== 0b11) return null;
    // Unlock, permaunlock, read-write when secured, permalock: in the order of the bits.
    const Privilege = [3, 2, 0, 1][(action >> shift) & 0b11]!;
    payloads.push(element("C1G2LockPayload", { Privilege, DataField: field }));
  }
  return payloads.length === 0 ? null : element("C1G2Lock", { OpSpecID: 1, AccessPassword: password }, payloads);
}

/** The EPC in lower case. Throws a ReaderError for anything but whole words of hex, 31 at most. */
export function checkedEpc(epc: string): string {
  const bytes = parseHex(epc);
  if (bytes instanceof Uint8Array && bytes.length * 2 === epc.length && bytes.length % 2 === 0 && bytes.length <= 62) {
    return epc.toLowerCase();
  }
  throw invalid("epc-length-invalid", "epc", "whole words of hex, 31 at most", epc.slice(0, 60));
}

function placeOf(path: string, { bank, word }: WordPlace) {
  if (!BANKS.includes(bank) || !Number.isInteger(word) || word < 0 || word > LAST_WORD) {
    throw invalid(
      "value-out-of-range",
      path,
      `words 0 to ${LAST_WORD} of ${BANKS.join(", ")}`,
      `word ${word} of ${bank}`,
    );
  }
  return { OpSpecID: opSpecIdOf({ bank, word }), MB: BANKS.indexOf(bank), WordPointer: word };
}

function invalid(code: Fault["code"], path: string, expected: string, actual: string): ReaderError {
  const fault: Fault = { code, byte: 0, bit: null, path, expected, actual };
  return new ReaderError(sentence(fault), fault);
}
