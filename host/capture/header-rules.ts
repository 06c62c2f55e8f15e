/** From the members of a capture's header record to the header. */
import { formatFingerprint, type Layout } from "../../protocol/index.ts";
import type { Members } from "./columns.ts";
import { type CaptureHeader, LineFault, quoted } from "./item.ts";

/** The capture format this program writes, and the only one it reads. */
export const CAPTURE_VERSION = 1;

const UTC_TIME = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d{1,9})?Z$/;

/** The header, or the member at fault. The version is judged first: in another version other members may be right. */
function headerOf(members: Members): CaptureHeader | LineFault {
  const { version, layout, fingerprint, started, source, note } = members;
  for (const field of ["version", "layout", "fingerprint", "started", "source", "barometer_uncertainty_pa"]) {
    if (members[field] === undefined) return new LineFault("field-missing", field, "nothing");
    if (field !== "version" || version === CAPTURE_VERSION) continue;
    const reason = Number.isInteger(version) ? "version-unknown" : "field-invalid";
    return new LineFault(reason, field, `${quoted(version)}, this program reads ${CAPTURE_VERSION}`);
  }
  const invalid = (field: string, expected: string): LineFault =>
    new LineFault("field-invalid", field, `${quoted(members[field])}, expected ${expected}`);
  const barometer = members.barometer_uncertainty_pa;
  if (!Number.isSafeInteger(layout) || (layout as number) < 0) return invalid("layout", "a layout number");
  if (typeof fingerprint !== "string" || !/^[0-9a-fA-F]{8}$/.test(fingerprint)) {
    return invalid("fingerprint", "eight hex digits");
  }
  if (typeof started !== "string" || !isUtcTime(started)) return invalid("started", "an ISO 8601 time that ends in Z");
  if (typeof source !== "string") return invalid("source", "a text");
  if (barometer !== null && !(typeof barometer === "number" && barometer >= 0 && barometer <= 1e6)) {
    return invalid("barometer_uncertainty_pa", "0 to 1000000 or null");
  }
  if (note !== undefined && typeof note !== "string") return invalid("note", "a text");
  return {
    version: CAPTURE_VERSION,
    layout: layout as number,
    fingerprint: Number.parseInt(fingerprint, 16),
    started,
    source,
    barometerUncertaintyPa: barometer,
    ...(note !== undefined && { note }),
  };
}

/** What a header means for the records that follow it. */
export interface HeaderVerdict {
  /** Null: refused, by `fault`. */
  readonly header: CaptureHeader | null;
  /** Why it is refused, or with a header what must be said of it. */
  readonly fault: LineFault | null;
  /** Whether nothing that follows can be read. */
  readonly blocks: boolean;
}

/** Judges a header record by the layout it is to be read with. */
export function judgeHeader(members: Members, layout: Layout): HeaderVerdict {
  const header = headerOf(members);
  if (header instanceof LineFault) return { header: null, fault: header, blocks: header.reason === "version-unknown" };
  if (header.layout !== layout.layout) {
    const found = `written with layout ${header.layout}, read with ${layout.layout}`;
    return { header: null, fault: new LineFault("layout-unknown", "layout", found), blocks: true };
  }
  if (header.fingerprint === layout.fingerprint) return { header, fault: null, blocks: false };
  const [written, own] = [header.fingerprint, layout.fingerprint].map(formatFingerprint);
  const fault = new LineFault("fingerprint-mismatch", "fingerprint", `written with ${written}, read with ${own}`);
  return { header, fault, blocks: false };
}

/** Date.parse lets 30 February pass as 2 March, so the day is compared with what came of it. */
function isUtcTime(text: string): boolean {
  if (!UTC_TIME.test(text)) return false;
  const time = new Date(text);
  return !Number.isNaN(time.getTime()) && time.toISOString().startsWith(text.slice(0, 10));
}
