/** Writes a capture as JSON Lines, one record a line, each line handed over before the next. */
import type { Writable } from "node:stream";
import { formatFingerprint } from "../../protocol/index.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";
import type { CaptureHeader } from "./item.ts";

/** The header's line, line end included. */
export function headerLine(header: CaptureHeader): string {
  return line({
    record: "capture",
    version: header.version,
    layout: header.layout,
    fingerprint: formatFingerprint(header.fingerprint),
    started: header.started,
    source: header.source,
    barometer_uncertainty_pa: header.barometerUncertaintyPa,
    note: header.note,
  });
}

/** A report's line, line end included. */
export function reportLine(report: TagReport | AmbientReport): string {
  if (report.kind === "ambient") {
    return line({
      record: "ambient",
      kit_time_us: report.kitTimeUs,
      pressure_raw: report.pressureRaw,
      temperature_cel: report.temperatureC,
    });
  }
  return line({
    record: "read",
    kit_time_us: report.kitTimeUs,
    epc: report.epc,
    pc: word(report.pc),
    xpc: word(report.xpc),
    rssi_dbm: report.rssiDbm,
    frequency_khz: report.frequencyKhz,
    result: report.result,
    bank: report.bank,
    word: report.word,
    words: report.words.map(word).join(""),
  });
}

/** A capture being written. Each call resolves when the stream has taken the line, and rejects with the stream's error. */
export class CaptureWriter {
  readonly #sink: Writable;

  constructor(sink: Writable) {
    this.#sink = sink;
  }

  header(header: CaptureHeader): Promise<void> {
    return this.#write(headerLine(header));
  }

  report(report: TagReport | AmbientReport): Promise<void> {
    return this.#write(reportLine(report));
  }

  #write(text: string): Promise<void> {
    return new Promise((resolve, reject) => {
      this.#sink.write(text, (error) => (error ? reject(error) : resolve()));
    });
  }
}

function line(record: object): string {
  return `${JSON.stringify(record)}\n`;
}

function word(value: number): string {
  return value.toString(16).padStart(4, "0");
}
