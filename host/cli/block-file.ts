import { type DecodedRecord, decode, isFault, parseHex, physicalOf, sentence } from "../../protocol/index.ts";
import { blockRecord } from "../calibrate/block.ts";
import { lastValidDate } from "../readings/validity.ts";
import { CommandError, EXIT } from "./exit.ts";
import { inputName, inputText } from "./input-text.ts";

/** The calibration block of a certificate in JSON, or of 32 bytes of hex; throws a CommandError when there is none. */
export function blockOf(file: string): { readonly block: DecodedRecord; readonly epc: string | null } {
  const text = inputText(file);
  const name = inputName(file);
  let hex = text;
  let epc: string | null = null;
  if (text.trimStart().startsWith("{")) {
    let certificate: { record?: unknown; block?: { words?: unknown } | null; tag?: { epc?: unknown } };
    try {
      certificate = JSON.parse(text);
    } catch {
      throw new CommandError(EXIT.usage, `${name}: not a JSON object`);
    }
    if (certificate.record !== "calibration_certificate")
      throw new CommandError(EXIT.usage, `${name}: no calibration certificate`);
    if (typeof certificate.block?.words !== "string")
      throw new CommandError(EXIT.usage, `${name}: the certificate holds no block`);
    hex = certificate.block.words;
    if (typeof certificate.tag?.epc === "string") epc = certificate.tag.epc;
  }
  const bytes = parseHex(hex);
  if (!(bytes instanceof Uint8Array))
    throw new CommandError(EXIT.usage, `${name}: neither a certificate nor hex digits [${bytes.code}]`);
  const block = decode(blockRecord, bytes);
  if (isFault(block)) throw new CommandError(EXIT.usage, `${name}: ${sentence(block)}`);
  return { block, epc };
}

/** A message when the calibration of a block is past its date on a day; null while it holds or is not limited. */
export function expiry(block: DecodedRecord, today: string): string | null {
  const [day, months] = [physicalOf(block, "date"), physicalOf(block, "validity")];
  if (day === null || months === null) return null;
  const last = lastValidDate(day, months);
  return today > last ? `the calibration is past its date: it was valid to ${last}` : null;
}
