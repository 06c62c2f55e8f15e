/** From messages of the link to what a reader reports. */

import { formatHex } from "../../protocol/bytes/hex.ts";
import { flagsOf, nameOf, physicalOf, rawOf } from "../../protocol/codec/record.ts";
import type { Message } from "../../protocol/link/message.ts";
import type { AccessResult, ChannelPlan, ReaderInfo } from "./reader.ts";
import type { AmbientReport, BankName, TagReport } from "./report.ts";

export function tagReport({ content }: Message): TagReport {
  const epc = content.tails.epc!.flatMap((word) => [word >> 8, word & 0xff]);
  return {
    kind: "read",
    kitTimeUs: rawOf(content, "kit_time"),
    epc: formatHex(epc),
    pc: rawOf(content, "pc"),
    xpc: rawOf(content, "xpc"),
    rssiDbm: physicalOf(content, "rssi"),
    frequencyKhz: rawOf(content, "frequency"),
    result: nameOf(content, "result"),
    bank: nameOf(content, "bank") as BankName,
    word: rawOf(content, "pointer"),
    words: content.tails.words!,
  };
}

export function ambientReport({ content }: Message): AmbientReport {
  return {
    kind: "ambient",
    kitTimeUs: rawOf(content, "kit_time"),
    pressureRaw: rawOf(content, "pressure"),
    temperatureC: physicalOf(content, "temperature"),
  };
}

export function accessResult({ content }: Message): AccessResult {
  return {
    result: nameOf(content, "result"),
    words: content.tails.words!,
    kitTimeUs: rawOf(content, "kit_time"),
  };
}

const PLANS: readonly ChannelPlan[] = ["eu_lower", "eu_upper", "us"];

export function readerInfo(source: string, { content }: Message): ReaderInfo {
  const can = new Set(flagsOf(content, "capabilities"));
  return {
    source,
    blockWrite: can.has("block_write"),
    lock: can.has("lock"),
    barometer: can.has("barometer"),
    channelPlans: PLANS.filter((plan) => can.has(plan)),
    powerLowDbm: physicalOf(content, "power_low"),
    powerHighDbm: physicalOf(content, "power_high"),
    barometerUncertaintyPa: physicalOf(content, "barometer_uncertainty"),
    kitTimeUs: rawOf(content, "kit_time"),
  };
}

/** What is known of a reader that only a recording is left of. */
export function recordingInfo(source: string): ReaderInfo {
  return {
    source,
    blockWrite: false,
    lock: false,
    barometer: false,
    channelPlans: [],
    powerLowDbm: null,
    powerHighDbm: null,
    barometerUncertaintyPa: null,
    kitTimeUs: null,
  };
}
