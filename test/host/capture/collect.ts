import { Readable } from "node:stream";
import { CaptureReader } from "../../../host/capture/capture-reader.ts";
import type { CaptureItem } from "../../../host/capture/item.ts";
import { layout } from "../../../protocol/index.ts";

/** Reads a capture given as text, bytes or chunks; the file is called `walk`. */
export async function collect(content: string | Uint8Array | readonly Uint8Array[]) {
  const chunks =
    typeof content === "string" ? [Buffer.from(content)] : content instanceof Uint8Array ? [content] : content;
  const reader = new CaptureReader(Readable.from(chunks, { objectMode: false }), "walk", layout);
  const items: CaptureItem[] = [];
  for await (const item of reader) items.push(item);
  return {
    items,
    counts: reader.counts,
    reports: items.flatMap((item) => ("report" in item ? [item.report] : [])),
    headers: items.flatMap((item) => ("header" in item ? [item.header] : [])),
    rejects: items.flatMap((item) => ("reject" in item ? [{ line: item.place.line, ...item.reject }] : [])),
    notices: items.flatMap((item) => ("notice" in item ? [{ line: item.place.line, ...item.notice }] : [])),
    more: items.flatMap((item) => ("more" in item ? [item.more] : [])),
  };
}

const fingerprint = layout.fingerprint.toString(16).padStart(8, "0");

/** Members of good records; a test changes one of them. */
export const good = {
  capture: {
    record: "capture",
    version: 1,
    layout: 1,
    fingerprint,
    started: "2026-03-04T09:00:00.000Z",
    source: "invented",
    barometer_uncertainty_pa: 12,
  },
  read: {
    record: "read",
    kit_time_us: 1_500_000,
    epc: "30361f9404c0004000000007",
    pc: "3600",
    xpc: "0200",
    rssi_dbm: -58.3,
    frequency_khz: 866_300,
    result: "done",
    bank: "user",
    word: 8,
    words: "deadbeef0001",
  },
  ambient: { record: "ambient", kit_time_us: 1_000_000, pressure_raw: 12_969_600, temperature_cel: 22.5 },
} as const;

/** One JSON line of a good record with some members replaced; `undefined` leaves a member out. */
export function jsonLine(record: keyof typeof good, changes: Record<string, unknown> = {}): string {
  return `${JSON.stringify({ ...good[record], ...changes })}\n`;
}
