/** What a capture holds by the rules for single lines and the decoder for single records: what the columns must say too. */

import { CaptureReader } from "../../../host/capture/capture-reader.ts";
import type { CaptureCounts, CaptureItem } from "../../../host/capture/item.ts";
import type { AmbientReport, TagReport } from "../../../host/reader/report.ts";
import { type ReadingCounts, ReadingStream } from "../../../host/readings/reading-stream.ts";
import { userRegions } from "../../../host/readings/tag-memory.ts";
import { formatHex, layout, makeDecoder, reasons } from "../../../protocol/index.ts";

const AIR = [
  "tag-lost",
  "tag-memory-overrun",
  "tag-memory-locked",
  "tag-power-insufficient",
  "tag-error",
  "password-wrong",
];
const NOT_READ = 0xffff;
const NOT_HELD = 255;
const decoders = new Map(layout.records.map((record) => [record.id, makeDecoder(record)]));
const frame = layout.records.find(({ id }) => id === "frame")!;
const fieldIds = ["status", "sequence", "pressure", "temperature", "supply", "uptime"];

export interface Row {
  readonly line: number;
  readonly raw: string;
  readonly report: TagReport;
  readonly verdicts: { readonly [region: string]: number };
  readonly slot: number;
  readonly fields: readonly number[] | null;
  readonly frame: number;
  readonly burst: number;
  readonly isRejected: boolean;
}

export interface Story {
  readonly rows: readonly Row[];
  readonly ambient: readonly { readonly line: number; readonly report: AmbientReport }[];
  /** Headers, notices and rejects, bytes as hex. */
  readonly items: readonly unknown[];
  readonly counts: CaptureCounts;
  readonly readings: Omit<ReadingCounts, "distinctFrames" | "ambientReports" | "tagReports" | "forgottenTags">;
  readonly rejected: number;
}

/** An item in a form that can be compared. */
export function comparable(item: CaptureItem): unknown {
  return JSON.parse(
    JSON.stringify(item, (_, value: unknown) => (value instanceof Uint8Array ? formatHex(value) : value)),
  );
}

export async function bySingleLines(text: Uint8Array): Promise<Story> {
  const capture = new CaptureReader(inPieces(text), "capture", layout);
  const ambient: { line: number; report: AmbientReport }[] = [];
  const rows: Row[] = [];
  const items: unknown[] = [];
  const sessions = [newSession()];
  let rejected = 0;
  for await (const item of capture) {
    if ("header" in item) sessions.push(newSession());
    if ("reject" in item) rejected++;
    if (!("report" in item)) items.push(comparable(item));
    else if (item.report.kind === "ambient")
      ambient.push({ line: item.place.line, report: { ...item.report, kitTimeUs: item.report.kitTimeUs + 0 } });
    else {
      const row = rowOf(sessions.at(-1)!, item.report, item.place.line, formatHex(item.raw));
      if (row.isRejected) rejected++;
      rows.push(row);
    }
  }
  const sum = (of: (counts: ReadingCounts) => number) => sessions.reduce((all, { counts }) => all + of(counts), 0);
  const unread: Record<string, number> = {};
  for (const { counts } of sessions) {
    for (const [reason, count] of Object.entries(counts.unread)) unread[reason] = (unread[reason] ?? 0) + count;
  }
  const readings = {
    sighted: sum((counts) => counts.sighted),
    other: sum((counts) => counts.other),
    readings: sum((counts) => counts.readings),
    waveforms: sum((counts) => counts.waveforms),
    unread,
  };
  return { rows, ambient, items, counts: structuredClone(capture.counts), readings, rejected };
}

function newSession(): ReadingStream {
  return new ReadingStream(layout, { started: null, barometerUncertaintyPa: null }, { kind: "none" });
}

function rowOf(session: ReadingStream, report: TagReport, line: number, raw: string): Row {
  const outcomes = session.push(report);
  const bytes = Uint8Array.from(report.words.flatMap((word) => [word >> 8, word & 0xff]));
  const isUser = report.result === "done" && report.bank === "user";
  const end = report.word + report.words.length;
  const verdicts: Record<string, number> = {};
  for (const { id, word, words, record } of userRegions(layout)) {
    const at = 2 * (word - report.word);
    const isWhole = report.word <= word && end >= word + words;
    const isTouched = report.word < word + words && end > word;
    let verdict = !isUser || !isTouched ? NOT_READ : reasons["record-too-short"].number * 256 + 255;
    if (isUser && isWhole) {
      const raws = new Float64Array(record.fields.length);
      verdict = decoders.get(record.id)!(bytes, at, at + record.bytes, raws);
      const print = record.fields.findIndex((field) => field.id === "fingerprint");
      if (id === "header" && verdict === 0 && raws[print] !== layout.fingerprint) {
        verdict = reasons["fingerprint-mismatch"].number * 256 + print;
      }
    }
    verdicts[id] = verdict;
  }
  const { slot, fields } = isUser ? newest(verdicts, bytes, report.word) : { slot: 0, fields: null };
  const faults = outcomes.filter((outcome) => outcome.kind === "unread" && !AIR.includes(outcome.reason));
  const touches = (...ids: string[]) => ids.some((id) => verdicts[id] !== NOT_READ);
  const isWhole = (...ids: string[]) => ids.every((id) => verdicts[id] !== NOT_READ && verdicts[id]! >> 8 !== 1);
  const foreign = faults.length === 1 ? faults[0]! : null;
  const reasonOf = (fault: (typeof faults)[number]) => (fault.kind === "unread" ? reasons[fault.reason].number : 0);
  const isForeign = foreign?.kind === "unread" && /^tag [0-9a-f]*: .*\(header written with /.test(foreign.sentence);
  const kindsOf = (kind: string) => outcomes.some((outcome) => outcome.kind === kind);
  const about = (says: RegExp) => faults.find((fault) => fault.kind === "unread" && says.test(fault.sentence));
  let frameReason = NOT_HELD;
  let burstReason = NOT_HELD;
  if (isUser && touches("slot_a", "slot_b")) {
    if (isForeign) frameReason = reasonOf(foreign);
    else if (kindsOf("reading")) frameReason = 0;
    else if (!isWhole("slot_a", "slot_b")) frameReason = reasons["record-too-short"].number;
    else frameReason = reasonOf(about(/slot|frame written with|sequences/)!);
  }
  if (isUser && touches("burst")) {
    if (isForeign) burstReason = reasonOf(foreign);
    else if (kindsOf("waveform")) burstReason = 0;
    else burstReason = verdicts.burst! >> 8;
  }
  return {
    line,
    raw,
    // A whole number has one zero in a column: -0 of JSON is the same.
    report: {
      ...report,
      kitTimeUs: report.kitTimeUs + 0,
      word: report.word + 0,
      frequencyKhz: report.frequencyKhz + 0,
    },
    verdicts,
    slot,
    fields,
    frame: frameReason,
    burst: burstReason,
    isRejected: faults.length > 0,
  };
}

/** The rule of the two slots, written again: RFC 1982 with 16 bits. */
function newest(verdicts: { readonly [region: string]: number }, bytes: Uint8Array, first: number) {
  const at = { slot_a: 2 * (8 - first), slot_b: 2 * (16 - first) };
  const held = (id: "slot_a" | "slot_b") => verdicts[id] !== NOT_READ && verdicts[id]! >> 8 !== 1;
  if (!held("slot_a") || !held("slot_b")) return { slot: 0, fields: null };
  const [a, b] = [verdicts.slot_a === 0, verdicts.slot_b === 0];
  const sequence = (from: number) => bytes[from + 2]! * 256 + bytes[from + 3]!;
  const hex = (from: number) => formatHex(bytes, from, from + 16);
  let slot = a ? 1 : b ? 2 : 0;
  if (a && b) {
    const ahead = (sequence(at.slot_a) - sequence(at.slot_b) + 65_536) % 65_536;
    if (ahead === 0) slot = hex(at.slot_a) === hex(at.slot_b) ? 1 : 0;
    else slot = ahead === 32_768 ? 0 : ahead < 32_768 ? 1 : 2;
  }
  if (slot === 0) return { slot, fields: null };
  const from = slot === 1 ? at.slot_a : at.slot_b;
  const raws = new Float64Array(frame.fields.length);
  decoders.get("frame")!(bytes, from, from + 16, raws);
  return { slot, fields: fieldIds.map((id) => raws[frame.fields.findIndex((field) => field.id === id)]!) };
}

async function* inPieces(text: Uint8Array): AsyncGenerator<Uint8Array> {
  yield text;
}
