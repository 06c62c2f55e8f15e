/** Which field of the specification a failure is about, from what was asked, what was expected and what came. */
import { type CompiledRecord, layout, type Reason } from "../../protocol/index.ts";
import type { Judgement } from "./judge.ts";
import { readingConcern } from "./reading-concern.ts";
import type { ReplayCase } from "./replay-case.ts";

/** Reasons that are about a record as a whole. */
const WHOLE = ["record-too-short", "record-empty", "trailing-bytes"];

/** Checks that come before those of the fields, in their order. */
const FIRST_CHECKS = [...WHOLE, "checksum-mismatch", "kind-unexpected", "layout-unknown"];

/** Path of the field concerned, as `frame.seal`; a record's id alone when it is about the whole. */
export function concernOf(asked: ReplayCase, { differences, answer }: Judgement): string {
  const { verb, expected, about } = asked;
  const key = differences[0]!.key;
  const came = answer && answer.verdict !== "unsupported" ? answer.pairs : new Map<string, string>();
  const reason = answer?.verdict === "bad" ? answer.reason : null;
  switch (verb) {
    case "slots":
      return slotsConcern(asked, key, came.get("slot"), reason);
    case "reading":
      return readingConcern(asked, key, came, reason);
    case "unframe":
      return linkPart(expected.reason ?? reason);
    case "quantity":
    case "stored_crc":
    case "slice":
      return about;
  }
  if (expected.verdict === "bad" && !(reason !== null && isBefore(reason, expected.reason!))) return pathAsked(asked);
  if (reason !== null) return named(came.get("path")) ?? fieldOfReason(about, reason);
  if (key === "message" || key === "request") return key === "message" ? "envelope.type" : "envelope.request";
  if (verb === "epc" || verb === "epc_write") return "epc.epc";
  if (verb === "encode" || verb === "write") return encodedField(asked, came.get("bytes") ?? "");
  return named(`${about}.${key}`) ?? about;
}

/** Whether a check was reported that comes before the one that fails: it was reported wrongly. */
function isBefore(reason: string, expected: string): boolean {
  const [came, right] = [FIRST_CHECKS.indexOf(reason), FIRST_CHECKS.indexOf(expected)];
  return came >= 0 && (right < 0 || came < right);
}

/** Path of a bad answer that was expected. */
export function pathAsked({ expected, about }: ReplayCase): string {
  return expected.keys.find(({ key }) => key === "path")?.text ?? about;
}

/** The path when it names something of the specification. */
function named(path: string | undefined): string | null {
  const [record, field] = bare(path ?? "").split(".");
  const found = layout.records.find(({ id }) => id === record);
  return found && (field === undefined || hasField(found, field)) ? path! : null;
}

function hasField({ fields, tails }: CompiledRecord, id: string): boolean {
  return fields.some((field) => (field.array ?? field.id) === id) || tails.some((tail) => tail.id === id);
}

/** A path without the bit and the index behind it. */
export function bare(path: string): string {
  return path.replace(/\.bit_\d+$/, "").replace(/\[\d+\]$/, "");
}

/** The field that a reason is about where the answer does not say; the record when there is none of that kind. */
export function fieldOfReason(id: string, reason: string): string {
  const record = layout.records.find((candidate) => candidate.id === id);
  if (!record || WHOLE.includes(reason)) return id;
  const last = record.tails.at(-1);
  const wanted: { readonly [code in Reason]?: CompiledRecord["fields"][number] | undefined } = {
    "checksum-mismatch": record.fields.find(({ type }) => type === "checksum"),
    "kind-unexpected": record.fields.find(({ role }) => role === "kind"),
    "layout-unknown": record.fields.find(({ role }) => role === "layout"),
    "marker-mismatch": record.fields.find(({ role }) => role === "marker"),
    "reserved-bit-set": record.fields.find(({ type }) => type === "reserved"),
    "name-unknown": record.fields.find(({ type }) => type === "enumeration"),
    "fingerprint-mismatch": record.fields.find((field) => field.id === "fingerprint"),
    "count-mismatch": last && record.fields[last.count],
  };
  return wanted[reason as Reason]?.path ?? id;
}

function slotsConcern(
  { expected, about }: ReplayCase,
  key: string,
  slot: string | undefined,
  reason: string | null,
): string {
  const fault = expected.keys.find((hint) => hint.key === slot)?.text;
  if (expected.verdict === "good" && key === "slot" && fault !== undefined) return fieldOfReason("frame", fault);
  if (expected.reason === "slots-both-bad" || (expected.verdict === "good" && reason === "slots-both-bad")) {
    return fieldOfReason("frame", about);
  }
  return "frame.sequence";
}

/** Parts of a link frame; they have no field of their own. */
function linkPart(reason: string | null): string {
  if (reason === "link-checksum-mismatch") return "link.checksum";
  return reason === "link-frame-too-long" ? "link.length" : "link.stuffing";
}

/** The field in whose container the first wrong byte lies. */
function encodedField({ expected, about }: ReplayCase, came: string): string {
  const right = expected.keys.find(({ key }) => key === "bytes")!.text;
  const record = layout.records.find(({ id }) => id === about)!;
  if (came.length !== right.length) return about;
  const at = [...right].findIndex((digit, i) => digit !== came[i]);
  const [byte, high] = [at >> 1, at % 2 === 0];
  const differing = Number.parseInt(right[at]!, 16) ^ Number.parseInt(came[at]!, 16);
  const field = record.fields.find(({ byte: first, bytes, shift, width }) => {
    if (byte < first || byte >= first + bytes) return false;
    const lowest = 8 * (first + bytes - 1 - byte) + (high ? 4 : 0);
    for (let bit = 0; bit < 4; bit++) {
      const place = lowest + bit;
      if ((differing >> bit) & 1 && place >= shift && place < shift + width) return true;
    }
    return false;
  });
  return field?.path ?? about;
}
