/** What comes out of a capture, in the order of its lines. */
import type { Reason } from "../../protocol/index.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";

/** The first record of a capture. */
export interface CaptureHeader {
  readonly version: 1;
  readonly layout: number;
  readonly fingerprint: number;
  /** When the session began, ISO 8601 in UTC. */
  readonly started: string;
  /** Port or file the reports came from. */
  readonly source: string;
  /** Expanded uncertainty (k = 2) the kit stated for its barometer; null when it stated none. */
  readonly barometerUncertaintyPa: number | null;
  readonly note?: string;
}

export interface Place {
  /** Counted from 1. */
  readonly line: number;
}

/** Something to be said once that costs no record. */
export interface Notice {
  readonly reason: Reason;
  /** One sentence that begins with `name:line:`. */
  readonly sentence: string;
}

/** A line that could not be read. */
export interface Reject extends Notice {
  /** The member or column at fault; null when it is the line as a whole. */
  readonly field: string | null;
  /** The line as it came, line end included, so that the rejects of a file can be kept byte for byte. */
  readonly raw: Uint8Array;
  /** The earlier line that is to blame, when this line itself may be good; its sentence was given there. */
  readonly becauseOf: number | null;
}

export type CaptureItem =
  | { readonly place: Place; readonly header: CaptureHeader }
  /** `raw` is the line as it came, for a report that later turns out to hold no good record. */
  | { readonly place: Place; readonly report: TagReport | AmbientReport; readonly raw: Uint8Array }
  | { readonly place: Place; readonly notice: Notice }
  | { readonly place: Place; readonly reject: Reject }
  /** Further bytes of an over-long line whose reject came before. */
  | { readonly place: Place; readonly more: Uint8Array };

/** Every line is in exactly one of headers, read, ambient, blank and rejected. */
export interface CaptureCounts {
  bytes: number;
  lines: number;
  headers: number;
  read: number;
  ambient: number;
  blank: number;
  readonly rejected: Partial<Record<Reason, number>>;
  readonly noticed: Partial<Record<Reason, number>>;
}

/** Why a line or member was refused, before it has a place. */
export class LineFault {
  readonly reason: Reason;
  readonly field: string | null;
  /** What was found, ready to stand in brackets. */
  readonly found: string;

  constructor(reason: Reason, field: string | null, found: string) {
    this.reason = reason;
    this.field = field;
    this.found = found;
  }
}

/** A text from a file as it may stand in a message: cut short, control characters escaped. */
export function quoted(value: unknown): string {
  const whole = JSON.stringify(typeof value === "string" ? cut(value, 40) : value) ?? "nothing";
  // JSON leaves DEL and the C1 controls alone, which a terminal may obey.
  return cut(whole, 60).replace(/[\u007f-\u009f]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`);
}

function cut(text: string, length: number): string {
  return text.length > length ? `${text.slice(0, length)}…` : text;
}
