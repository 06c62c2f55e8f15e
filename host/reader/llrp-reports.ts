/** From messages of LLRP to what a reader reports; the same live and from a recording. */
import {
  type BitArray,
  type LlrpElement,
  type LlrpMessage,
  type LlrpValue,
  numberOf,
  parameterOf,
} from "../../protocol/llrp/vocabulary.ts";
import type { Fault } from "../../protocol/model/reasons.ts";
import { BANKS, placeOfOpSpec, type WordPlace } from "./llrp-op-spec.ts";
import { type OpResult, opResultOf } from "./llrp-results.ts";
import type { TagReport } from "./report.ts";

/** One TagReportData. */
export interface TagSeen {
  /** AccessSpec behind the results; null when the reader named none. */
  readonly accessSpecId: number | null;
  readonly results: readonly OpResult[];
  readonly kitTimeUs: number;
  /** One for each Read, or one sighting without. */
  readonly reports: readonly TagReport[];
}

type Clock = "UTC" | "Uptime";

/** XPC_W1 follows the PC word. */
const XPC_INDICATOR = 0x0200;

/** AccessSpecs remembered, the oldest forgotten first. */
const MOST_SPECS = 1024;

export class LlrpReports {
  /** When the reader's clock shows UTC: the time that kit time is counted from, in microseconds since 1970. */
  startUtcUs: bigint | null = null;
  readonly #onFault: (fault: Fault) => void;
  /** An enabled field that is absent repeats the last value received of its type. */
  readonly #last = new Map<string, LlrpValue>();
  readonly #origins = new Map<Clock, bigint>();
  readonly #specs = new Map<number, ReadonlyMap<number, WordPlace>>();
  #channelsKhz: readonly number[] = [];

  /** Bytes of faults are 0: they are about what is in a message, not where. */
  constructor(onFault: (fault: Fault) => void) {
    this.#onFault = onFault;
  }

  /** Takes any message of either side, in the order they were said. */
  take(message: LlrpMessage): TagSeen[] {
    switch (message.name) {
      case "READER_EVENT_NOTIFICATION":
        this.#event(message.parameters[0]!);
        return [];
      case "GET_READER_CAPABILITIES_RESPONSE":
        this.#channels(message);
        return [];
      case "ADD_ACCESSSPEC":
      case "GET_ACCESSSPECS_RESPONSE":
        for (const spec of message.parameters) if (spec.name === "AccessSpec") this.#learn(spec);
        return [];
      case "RO_ACCESS_REPORT":
        return message.parameters.flatMap((data) => (data.name === "TagReportData" ? this.#seen(data) : []));
      default:
        return [];
    }
  }

  /** A new connection: kit time begins, and nothing said before counts. */
  #event(data: LlrpElement): void {
    const attempt = parameterOf(data, "ConnectionAttemptEvent");
    if (!attempt) return;
    this.#last.clear();
    this.#origins.clear();
    this.#specs.clear();
    this.startUtcUs = null;
    const [stamp] = data.parameters;
    this.#sinceStart(stamp!.name === "Uptime" ? "Uptime" : "UTC", stamp!.values.Microseconds as bigint);
  }

  #channels(message: LlrpMessage): void {
    const regulatory = parameterOf(message, "RegulatoryCapabilities");
    const band = regulatory && parameterOf(regulatory, "UHFBandCapabilities");
    const frequencies = band && parameterOf(band, "FrequencyInformation");
    if (frequencies) this.#channelsKhz = (frequencies.parameters[0]?.values.Frequency as number[] | undefined) ?? [];
  }

  #learn(spec: LlrpElement): void {
    const operations = parameterOf(spec, "AccessCommand")!.parameters.filter(({ name }) => name === "C1G2Read");
    const places = operations.map((operation): [number, WordPlace] => [
      numberOf(operation, "OpSpecID"),
      { bank: BANKS[numberOf(operation, "MB")]!, word: numberOf(operation, "WordPointer") },
    ]);
    this.#specs.set(numberOf(spec, "AccessSpecID"), new Map(places));
    if (this.#specs.size > MOST_SPECS) this.#specs.delete(this.#specs.keys().next().value!);
  }

  #seen(data: LlrpElement): TagSeen[] {
    const kitTimeUs = this.#time(data);
    if (kitTimeUs === null) return [];
    const pc = this.#number(data, "C1G2_PC", "PC_Bits") ?? 0;
    const xpc = this.#number(data, "C1G2_XPC_W1", "XPC_W1") ?? 0;
    const channel = this.#number(data, "ChannelIndex", "ChannelIndex") ?? 0;
    const sighting = {
      kind: "read",
      kitTimeUs,
      epc: epcOf(data),
      pc,
      // The last one received may be another tag's.
      xpc: pc & XPC_INDICATOR ? xpc : 0,
      rssiDbm: this.#number(data, "PeakRSSI", "PeakRSSI"),
      frequencyKhz: this.#channelsKhz[channel - 1] ?? 0,
    } as const;
    const accessSpecId = this.#number(data, "AccessSpecID", "AccessSpecID");
    const results = data.parameters.flatMap((parameter) => opResultOf(parameter) ?? []);
    const reads = results.filter(({ isRead }) => isRead);
    const reports: TagReport[] = [];
    if (reads.length === 0) reports.push({ ...sighting, result: "not_asked", bank: "user", word: 0, words: [] });
    for (const { opSpecId, result, words } of reads) {
      const place = this.#placeOf(accessSpecId, opSpecId);
      if (place) reports.push({ ...sighting, ...place, result, words });
    }
    return [{ accessSpecId, results, kitTimeUs, reports }];
  }

  #placeOf(accessSpecId: number | null, opSpecId: number): WordPlace | null {
    const told = accessSpecId === null ? undefined : this.#specs.get(accessSpecId)?.get(opSpecId);
    const place = told ?? placeOfOpSpec(opSpecId);
    if (!place) {
      const found = { expected: "an AccessSpec that says which words it reads", actual: `OpSpecID ${opSpecId}` };
      const path = "RO_ACCESS_REPORT.TagReportData.C1G2ReadOpSpecResult";
      this.#onFault({ code: "field-missing", byte: 0, bit: null, path, ...found });
    }
    return place;
  }

  /** Microseconds since kit time began, by the last sighting the report covers; null (and a fault) without a time. */
  #time(data: LlrpElement): number | null {
    const path = "RO_ACCESS_REPORT.TagReportData.LastSeenTimestampUTC";
    for (const clock of ["UTC", "Uptime"] as const) {
      for (const name of [`LastSeenTimestamp${clock}`, `FirstSeenTimestamp${clock}`]) {
        const stamp = this.#value(data, name, "Microseconds");
        if (typeof stamp !== "bigint") continue;
        const sinceUs = this.#sinceStart(clock, stamp);
        if (sinceUs >= 0n && sinceUs < 1n << 48n) return Number(sinceUs);
        const found = { expected: "a time after the connection", actual: `${sinceUs} µs` };
        this.#onFault({ code: "value-out-of-range", byte: 0, bit: null, path, ...found });
        return null;
      }
    }
    this.#onFault({ code: "field-missing", byte: 0, bit: null, path, expected: "a time stamp", actual: "none" });
    return null;
  }

  #sinceStart(clock: Clock, stamp: bigint): bigint {
    const origin = this.#origins.get(clock) ?? stamp;
    this.#origins.set(clock, origin);
    if (clock === "UTC") this.startUtcUs = origin;
    return stamp - origin;
  }

  #number(data: LlrpElement, parameter: string, field: string): number | null {
    const value = this.#value(data, parameter, field);
    return typeof value === "number" ? value : null;
  }

  #value(data: LlrpElement, parameter: string, field: string): LlrpValue | undefined {
    const value = parameterOf(data, parameter)?.values[field];
    if (value === undefined) return this.#last.get(parameter);
    this.#last.set(parameter, value);
    return value;
  }
}

function epcOf(data: LlrpElement): string {
  const { EPC } = (parameterOf(data, "EPC-96") ?? parameterOf(data, "EPCData"))!.values;
  return typeof EPC === "string" ? EPC : (EPC as BitArray).hex;
}
