/** From the members of a record to a report, held to the ranges and names that the specification gives the link's reports. */
import { type CompiledField, fieldIndex, type Layout, parseHex, recordOf, toValue } from "../../protocol/index.ts";
import type { AmbientReport, BankName, TagReport } from "../reader/report.ts";
import type { ColumnId, Members } from "./columns.ts";
import { LineFault, quoted } from "./item.ts";

/** Makes the report of a record, or says which member is at fault. */
export type ReportRules = (members: Members) => TagReport | AmbientReport | LineFault;

/** Rules from the layout's tag and ambient reports. */
export function makeReportRules(layout: Layout): ReportRules {
  const fieldsOf = (id: string) => {
    const record = recordOf(layout, id);
    return (name: string) => record.fields[fieldIndex(record, name)]!;
  };
  const tag = fieldsOf("tag_report");
  const ambient = fieldsOf("ambient_report");
  // Looked up once: a search for each member of each line takes as long as the rest.
  const [kitTime, epcWords, rssi, frequency] = [tag("kit_time"), tag("epc_words"), tag("rssi"), tag("frequency")];
  const [result, bank, pointer, wordCount] = [tag("result"), tag("bank"), tag("pointer"), tag("word_count")];
  const [ambientTime, pressure, temperature] = [ambient("kit_time"), ambient("pressure"), ambient("temperature")];

  function read(members: Members): TagReport {
    return {
      kind: "read",
      kitTimeUs: integer(members, "kit_time_us", kitTime),
      epc: hexOf(words(members, "epc", epcWords.max!)),
      pc: word(members, "pc"),
      xpc: word(members, "xpc"),
      rssiDbm: numberOrNull(members, "rssi_dbm", rssi),
      frequencyKhz: integer(members, "frequency_khz", frequency),
      result: name(members, "result", result),
      bank: name(members, "bank", bank) as BankName,
      word: integer(members, "word", pointer),
      words: words(members, "words", wordCount.max!),
    };
  }

  return (members) => {
    try {
      const record = members.record;
      if (record === undefined) throw new LineFault("field-missing", "record", "nothing");
      if (record === "read") return read(members);
      if (record !== "ambient") throw new LineFault("name-unknown", "record", quoted(record));
      return {
        kind: "ambient",
        kitTimeUs: integer(members, "kit_time_us", ambientTime),
        pressureRaw: integer(members, "pressure_raw", pressure),
        temperatureC: numberOrNull(members, "temperature_cel", temperature),
      };
    } catch (refusal) {
      if (refusal instanceof LineFault) return refusal;
      throw refusal;
    }
  };
}

function present(members: Members, id: ColumnId): unknown {
  const value = members[id];
  if (value === undefined) throw new LineFault("field-missing", id, "nothing");
  return value;
}

function number(value: unknown, id: ColumnId, low: number, high: number): number {
  if (typeof value !== "number") throw new LineFault("field-invalid", id, `${quoted(value)} is no number`);
  if (value >= low && value <= high) return value;
  throw new LineFault("value-out-of-range", id, `${quoted(value)}, expected ${low} to ${high}`);
}

/** Counts and raw integers are carried unscaled. */
function integer(members: Members, id: ColumnId, field: CompiledField): number {
  const value = number(present(members, id), id, field.min!, field.max!);
  if (!Number.isInteger(value)) throw new LineFault("field-invalid", id, `${quoted(value)} is no whole number`);
  return value;
}

function numberOrNull(members: Members, id: ColumnId, field: CompiledField): number | null {
  const value = present(members, id);
  return value === null ? null : number(value, id, toValue(field, field.min!)!, toValue(field, field.max!)!);
}

function name(members: Members, id: ColumnId, field: CompiledField): string {
  const value = present(members, id);
  if (!field.names!.some((known) => known.id === value)) throw new LineFault("name-unknown", id, quoted(value));
  return value as string;
}

function words(members: Members, id: ColumnId, limit: number): number[] {
  const text = present(members, id);
  if (typeof text !== "string") throw new LineFault("field-invalid", id, `${quoted(text)} is no hex text`);
  const bytes = parseHex(text);
  if ("code" in bytes) {
    const found = bytes.code === "hex-bad-digit" ? quoted(bytes.actual) : bytes.actual;
    throw new LineFault(bytes.code, id, `${found}, character ${bytes.place + 1}`);
  }
  if (bytes.length % 2 !== 0) {
    throw new LineFault("field-invalid", id, `${bytes.length} bytes are not whole 16-bit words: cut short`);
  }
  if (bytes.length / 2 > limit) {
    throw new LineFault("value-out-of-range", id, `${bytes.length / 2} words, expected ${limit} at most`);
  }
  const list: number[] = [];
  for (let i = 0; i < bytes.length; i += 2) list.push(bytes[i]! * 256 + bytes[i + 1]!);
  return list;
}

function word(members: Members, id: ColumnId): number {
  const found = words(members, id, 1);
  if (found.length !== 1) throw new LineFault("field-invalid", id, "expected four hex digits");
  return found[0]!;
}

function hexOf(list: readonly number[]): string {
  return list.map((value) => value.toString(16).padStart(4, "0")).join("");
}
