/** From a read that holds the burst block to a waveform. */
import { type CompiledField, formatHex, isFault, physicalOf, rawOf } from "../../protocol/index.ts";
import { Conversion } from "./conversion.ts";
import type { Maker } from "./make-reading.ts";
import { type GaugePressure, stepsOf } from "./pressure.ts";
import { QualityFlags } from "./quality.ts";
import type { Unread, Waveform } from "./reading.ts";
import type { UserRegion } from "./tag-memory.ts";
import { unread } from "./unread.ts";

/** The waveform of a burst, or why the block gives none. */
export function makeWaveform(
  { report, tag, read, ambient, sessionDate }: Maker,
  region: UserRegion,
): Waveform | Unread {
  const burst = read.decode(region);
  if (isFault(burst)) {
    const says =
      burst.code === "layout-unknown"
        ? `burst written with layout ${burst.actual}, read with ${burst.expected}`
        : `${burst.path}, byte ${burst.byte}: expected ${burst.expected}, found ${burst.actual}`;
    return unread(report, burst.code, says, [burst]);
  }
  const quality = new QualityFlags();
  const at = read.at(region);
  const hex = formatHex(read.bytes, at, at + region.record.bytes);
  const sequence = rawOf(burst, "sequence");
  const age = tag.bursts.see(sequence, hex, report.kitTimeUs, null);
  quality.add(...age.quality.filter((id) => id !== "stale"));

  const conversion = new Conversion(burst, tag, sessionDate, quality);
  const base = physicalOf(burst, "pressure") === null ? null : rawOf(burst, "pressure");
  if (base === null) quality.add("pressure_not_measured");
  const fields = burst.record.fields.filter(({ array }) => array === "samples").slice(0, rawOf(burst, "count"));
  const raws = fields.map((field) => {
    const differencePa = physicalOf(burst, field.id);
    if (differencePa === null || base === null) return null;
    if (isEnd(field, rawOf(burst, field.id))) quality.add("sample_at_limit");
    return base + stepsOf(differencePa);
  });
  const absolute = raws.map((raw) => (raw === null ? null : conversion.absolute(raw)));

  const isAmbient = ambient.isTag(report.epc);
  if (isAmbient) quality.add("ambient_tag");
  const against = isAmbient ? null : ambient.latest;
  const ambientAgeS = isAmbient ? null : conversion.judgeAmbient(against, age.firstSeenUs);
  const gauge = absolute.map((pressure): GaugePressure | null =>
    pressure === null || !against ? null : conversion.gauge(pressure, against),
  );
  const intervalS = physicalOf(burst, "interval")!;
  return {
    kind: "waveform",
    epc: report.epc,
    kitTimeUs: report.kitTimeUs,
    sequence,
    intervalS,
    timesS: fields.map((_, i) => (i * rawOf(burst, "interval")) / 1000),
    absolute,
    gauge,
    expandedUncertaintyPa: gauge.some((sample) => sample !== null) ? conversion.uncertaintyPa(against) : null,
    temperatureC: conversion.temperatureC,
    ambient: against,
    ambientAgeS,
    calibration: conversion.calibration,
    quality: quality.list(),
    raw: { burst: hex },
  };
}

/** The encoder saturates at the ends of a sample's range, so a value there says only "at least". */
function isEnd({ min, max }: CompiledField, raw: number): boolean {
  return raw === min || raw === max;
}
