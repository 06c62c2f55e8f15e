/** TagReportData of a sighting, by the content selector in force. */
import { element, type LlrpElement, numberOf, parameterOf } from "../../protocol/llrp/vocabulary.ts";
import { CHANNELS } from "./llrp-capabilities.ts";
import type { Sighting } from "./orders.ts";

/** What is not asked for by a selector is not in a report. */
export const NOTHING_SELECTED = element(
  "TagReportContentSelector",
  {
    EnableROSpecID: 0,
    EnableSpecIndex: 0,
    EnableInventoryParameterSpecID: 0,
    EnableAntennaID: 0,
    EnableChannelIndex: 0,
    EnablePeakRSSI: 0,
    EnableFirstSeenTimestamp: 0,
    EnableLastSeenTimestamp: 0,
    EnableTagSeenCount: 0,
    EnableAccessSpecID: 0,
  },
  [],
);

export interface Seen {
  readonly sighting: Sighting;
  readonly utcUs: bigint;
  readonly roSpecId: number;
  /** null: no AccessSpec was meant for the tag. */
  readonly access: { readonly id: number; readonly results: readonly LlrpElement[] } | null;
}

/**
 * Makes reports for one connection. An enabled field that is as in the report before is left out, as the standard allows:
 * who reads the report repeats the last value.
 */
export class TagReports {
  readonly #last = new Map<string, number>();

  report({ sighting, utcUs, roSpecId, access }: Seen, selector: LlrpElement): LlrpElement {
    const wants = (what: string) => numberOf(selector, `Enable${what}`) === 1;
    const { pc, epc, xpc } = sighting.identity;
    const hex = epc.map((word) => word.toString(16).padStart(4, "0")).join("");
    const parts = [
      epc.length === 6 ? element("EPC-96", { EPC: hex }) : element("EPCData", { EPC: { bits: 16 * epc.length, hex } }),
    ];
    const changed = (name: string, field: string, value: number) => {
      if (this.#last.get(name) === value) return;
      this.#last.set(name, value);
      parts.push(element(name, { [field]: value }));
    };
    if (wants("ROSpecID")) changed("ROSpecID", "ROSpecID", roSpecId);
    if (wants("SpecIndex")) changed("SpecIndex", "SpecIndex", 1);
    if (wants("InventoryParameterSpecID")) changed("InventoryParameterSpecID", "InventoryParameterSpecID", 1);
    if (wants("AntennaID")) changed("AntennaID", "AntennaID", 1);
    if (wants("PeakRSSI")) parts.push(element("PeakRSSI", { PeakRSSI: Math.round(sighting.rssiDbm) }));
    if (wants("ChannelIndex")) {
      changed("ChannelIndex", "ChannelIndex", CHANNELS.indexOf(sighting.frequencyKhz) + 1);
    }
    if (wants("FirstSeenTimestamp")) parts.push(element("FirstSeenTimestampUTC", { Microseconds: utcUs }));
    if (wants("LastSeenTimestamp")) parts.push(element("LastSeenTimestampUTC", { Microseconds: utcUs }));
    if (wants("TagSeenCount")) changed("TagSeenCount", "TagCount", 1);
    const memory = parameterOf(selector, "C1G2EPCMemorySelector");
    if (memory && numberOf(memory, "EnablePCBits") === 1) parts.push(element("C1G2_PC", { PC_Bits: pc }));
    const xpcThere = (pc & XPC_INDICATOR) !== 0;
    if (memory && xpcThere && numberOf(memory, "EnableXPCBits") === 1) {
      parts.push(element("C1G2_XPC_W1", { XPC_W1: xpc }));
    }
    if (access && wants("AccessSpecID")) changed("AccessSpecID", "AccessSpecID", access.id);
    return element("TagReportData", {}, [...parts, ...(access?.results ?? [])]);
  }
}

/** Bit of the PC word: an XPC word follows it. */
const XPC_INDICATOR = 0x0200;
