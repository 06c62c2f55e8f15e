/** Which layout a tag was written with, by its header alone. */
import { formatFingerprint } from "../model/canonical.ts";
import { type Layout, recordOf } from "../model/layout.ts";
import type { Fault } from "../model/reasons.ts";
import { isFault } from "./encode.ts";
import { namedRaws } from "./named.ts";
import { type DecodedRecord, decode } from "./record.ts";

export interface IdentifiedHeader {
  readonly layout: Layout;
  readonly header: DecodedRecord;
}

/**
 * Tries the header at `bytes[at]` against each layout in turn, the current one first; bytes after it are not looked at.
 * A sealed header of a layout none of them is gives `layout-unknown`; the right number with another fingerprint gives
 * `fingerprint-mismatch`; anything else gives what the current layout says of it.
 */
export function identifyHeader(layouts: readonly Layout[], bytes: ArrayLike<number>, at = 0): IdentifiedHeader | Fault {
  const faults: Fault[] = [];
  for (const layout of layouts) {
    const record = recordOf(layout, "header");
    const header = decode(record, bytes, at, Math.min(at + record.bytes, bytes.length));
    if (isFault(header)) {
      faults.push(header);
      continue;
    }
    const { fingerprint } = namedRaws(header, "header");
    if (fingerprint === layout.fingerprint) return { layout, header };
    const field = record.fields.find(({ id }) => id === "fingerprint")!;
    faults.push({
      code: "fingerprint-mismatch",
      byte: field.byte,
      bit: field.shift,
      path: field.path,
      expected: formatFingerprint(layout.fingerprint),
      actual: formatFingerprint(fingerprint),
    });
  }
  const mismatch = faults.find(({ code }) => code === "fingerprint-mismatch");
  if (mismatch) return mismatch;
  const foreign = faults.find(({ code }) => code === "layout-unknown");
  if (!foreign) return faults[0]!;
  const numbers = [...new Set(layouts.map(({ layout }) => layout))];
  return { ...foreign, expected: `layout ${numbers.join(" or ")}`, actual: `layout ${foreign.actual}` };
}
