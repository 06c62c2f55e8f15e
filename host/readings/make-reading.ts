/** From a read that holds both slots to a reading. */
import {
  chooseSlot,
  type Fault,
  fieldIndex,
  formatHex,
  physicalOf,
  rawOf,
  type SlotChoice,
} from "../../protocol/index.ts";
import type { TagReport } from "../reader/report.ts";
import type { AmbientTracker } from "./ambient.ts";
import { bandOf } from "./bands.ts";
import { Conversion } from "./conversion.ts";
import { PASCAL_PER_MMHG, toMmhg } from "./pressure.ts";
import { QualityFlags, type QualityId, qualities } from "./quality.ts";
import type { Reading, Unread } from "./reading.ts";
import type { TagMemory, UserRead, UserRegion } from "./tag-memory.ts";
import { unread } from "./unread.ts";

/** A read with what is known around it. */
export interface Maker {
  readonly report: TagReport;
  readonly tag: TagMemory;
  readonly read: UserRead;
  readonly ambient: AmbientTracker;
  /** ISO date of the session; null when not known. */
  readonly sessionDate: string | null;
}

/** The reading of the newest whole frame, or why neither slot gives one. `slots`: A and B. */
export function makeReading(maker: Maker, slots: readonly UserRegion[]): Reading | Unread {
  const { report, tag, read, ambient, sessionDate } = maker;
  const [a, b] = slots.map((slot) => read.at(slot)) as [number, number];
  const choice = chooseSlot(slots[0]!.record, read.bytes, a, b);
  const { frame, slot } = choice;
  if (!frame || !slot) return noFrame(report, choice);

  const quality = new QualityFlags();
  quality.add(...choice.notes.map((note) => note.replaceAll("-", "_") as QualityId));
  const at = slot === "a" ? a : b;
  const hex = formatHex(read.bytes, at, at + frame.record.bytes);
  const sequence = rawOf(frame, "sequence");
  const header = tag.tagHeader;
  const age = tag.freshness.see(sequence, hex, report.kitTimeUs, header?.samplingPeriodS ?? null);
  quality.add(...age.quality);

  const conversion = new Conversion(frame, tag, sessionDate, quality);
  const measured = physicalOf(frame, "pressure") !== null;
  if (!measured) quality.add("pressure_not_measured");
  const absolute = measured ? conversion.absolute(rawOf(frame, "pressure")) : null;
  const isAmbient = ambient.isTag(report.epc);
  if (isAmbient) {
    const usable = quality.list().every((id) => qualities[id].severity !== "invalid" && id !== "sequence_back");
    const own = quality.voided ? null : (conversion.calibration?.expandedUncertaintyPa ?? null);
    if (absolute !== null && usable) ambient.fromTag(absolute, own, age.firstSeenUs);
    quality.add("ambient_tag");
  }
  const against = isAmbient ? null : ambient.latest;
  const ambientAgeS = isAmbient ? null : conversion.judgeAmbient(against, age.firstSeenUs);
  const gauge = absolute !== null && against ? conversion.gauge(absolute, against) : null;
  const expandedUncertaintyPa = gauge === null ? null : conversion.uncertaintyPa(against);
  if (gauge !== null && gauge < 0) quality.add("below_ambient");
  const mmhg = expandedUncertaintyPa === null ? null : expandedUncertaintyPa / PASCAL_PER_MMHG;

  return {
    kind: "reading",
    epc: report.epc,
    kitTimeUs: report.kitTimeUs,
    rssiDbm: report.rssiDbm,
    frequencyKhz: report.frequencyKhz,
    slot,
    sequence,
    absolute,
    gauge,
    expandedUncertaintyPa,
    band: gauge === null ? null : bandOf(toMmhg(gauge), mmhg),
    temperatureC: conversion.temperatureC,
    supplyV: physicalOf(frame, "supply"),
    uptimeS: physicalOf(frame, "uptime")!,
    uptimeSaturated: isSaturated(frame, "uptime"),
    ageS: age.ageS,
    ambient: against,
    ambientAgeS,
    calibration: conversion.calibration,
    header,
    counters: tag.counters,
    quality: quality.list(),
    raw: {
      frame: hex,
      status: rawOf(frame, "status"),
      pressure: rawOf(frame, "pressure"),
      temperature: rawOf(frame, "temperature"),
      supply: rawOf(frame, "supply"),
      uptime: rawOf(frame, "uptime"),
    },
  };
}

function isSaturated(frame: NonNullable<SlotChoice["frame"]>, id: string): boolean {
  const field = frame.record.fields[fieldIndex(frame.record, id)]!;
  return field.sentinels!.some(({ raw, means }) => means === "saturated" && raw === rawOf(frame, id));
}

/** Two slots of another layout, or two never written, are called that. */
function noFrame(report: TagReport, { fault, faults }: SlotChoice): Unread {
  const found = [faults.a, faults.b].filter((slot): slot is Fault => slot !== null);
  const foreign = found.find(({ code }) => code === "layout-unknown");
  if (foreign) {
    const says = `frame written with layout ${foreign.actual}, read with ${foreign.expected}`;
    return unread(report, "layout-unknown", says, found);
  }
  if (found.length === 2 && found.every(({ code }) => code === "record-empty")) {
    return unread(report, "record-empty", "slots A and B", found);
  }
  const each = (["a", "b"] as const).map((slot) => {
    const { code, path, byte, expected, actual } = faults[slot] ?? fault!;
    return `slot ${slot.toUpperCase()} ${code} at ${path}, byte ${byte}: expected ${expected}, found ${actual}`;
  });
  const says = found.length === 2 ? each.join("; ") : `sequences ${fault!.actual}`;
  return unread(report, fault!.code, says, found.length > 0 ? found : [fault!]);
}
