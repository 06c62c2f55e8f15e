/** Between what a capture holds and messages of the link: a report as a message, and what a message reports. */
import {
  type CompiledField,
  decodeMessage,
  encodeMessage,
  type Fault,
  fieldIndex,
  isFault,
  type Layout,
  recordOf,
  toRaw,
  toValue,
} from "../../protocol/index.ts";
import { ambientReport, readerInfo, tagReport } from "../reader/link-report.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";

/** A report as a message's body. */
export interface ReportMessage {
  readonly body: Uint8Array;
  /** Whether a signal strength or temperature is finer than the message can hold, and was rounded. */
  readonly rounded: boolean;
}

/** The message that brings a report, or the fault of what it cannot hold. */
export function messageOf(layout: Layout, report: TagReport | AmbientReport): ReportMessage | Fault {
  const id = report.kind === "ambient" ? "ambient_report" : "tag_report";
  const record = recordOf(layout, id);
  const fieldOf = (name: string): CompiledField => record.fields[fieldIndex(record, name)]!;
  let rounded = false;
  const scaled = (name: string, value: number | null): number => {
    const field = fieldOf(name);
    if (value === null) return field.sentinels!.find(({ means }) => means === "absent")!.raw;
    const raw = toRaw(field, value) ?? Number.NaN;
    rounded ||= toValue(field, raw) !== value;
    return raw;
  };
  const named = (name: string, value: string): number =>
    fieldOf(name).names!.find((known) => known.id === value)?.raw ?? Number.NaN;

  let body: Uint8Array | Fault;
  if (report.kind === "ambient") {
    const temperature = scaled("temperature", report.temperatureC);
    body = encodeMessage(layout, id, "to-host", 0, {
      kit_time: report.kitTimeUs,
      pressure: report.pressureRaw,
      temperature,
    });
  } else {
    const epc = wordsOf(report.epc);
    const values = {
      kit_time: report.kitTimeUs,
      pc: report.pc,
      xpc: report.xpc,
      rssi: scaled("rssi", report.rssiDbm),
      frequency: report.frequencyKhz,
      result: named("result", report.result),
      bank: named("bank", report.bank),
      pointer: report.word,
      word_count: report.words.length,
      epc_words: report.epc.length / 4,
    };
    body = encodeMessage(layout, id, "to-host", 0, values, { epc, words: report.words });
  }
  return isFault(body) ? body : { body, rounded };
}

/** What a message of the kit tells a capture: a report, the beginning of a session, or nothing. */
export type Heard = { readonly report: TagReport | AmbientReport } | { readonly session: Greeting } | "other";

/** What the kit said of itself when the session began. */
export interface Greeting {
  readonly started: null;
  readonly barometerUncertaintyPa: number | null;
  /** Body of its message. */
  readonly welcome: Uint8Array;
}

/** What a message says, or why it is none; a fault's byte is counted from the first of the body. */
export function heardIn(layout: Layout, body: Uint8Array, direction: "to-host" | "to-kit"): Heard | Fault {
  const message = decodeMessage(layout, body, direction);
  if (isFault(message)) return message;
  switch (message.message.id) {
    case "tag_report":
      return { report: tagReport(message) };
    case "ambient_report":
      return { report: ambientReport(message) };
    case "welcome": {
      const { barometerUncertaintyPa } = readerInfo("", message);
      return { session: { started: null, barometerUncertaintyPa, welcome: body } };
    }
    default:
      return "other";
  }
}

function wordsOf(hex: string): number[] {
  return (hex.match(/.{1,4}/g) ?? []).map((digits) => Number.parseInt(digits, 16));
}
