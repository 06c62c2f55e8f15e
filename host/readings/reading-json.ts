/** Readings and waveforms as flat JSON objects with the unit in every name; schema: vectors/schema/reading.schema.json. */
import { bandScheme, bandText } from "./bands.ts";
import type { Calibration } from "./calibration.ts";
import { type Ambient, PASCAL_PER_MMHG, toHpa, toMmhg } from "./pressure.ts";
import type { Reading, Waveform } from "./reading.ts";

/** Six decimals: a hundred times finer than a raw step, so nothing the tag said is lost. */
const DECIMALS = 6;

/** One JSON object for a reading or a waveform. */
export function readingJson(reading: Reading | Waveform) {
  return reading.kind === "reading" ? frameJson(reading) : waveformJson(reading);
}

function frameJson(reading: Reading) {
  const { gauge, absolute, band } = reading;
  return {
    record: "reading" as const,
    kit_time_us: reading.kitTimeUs,
    epc: reading.epc,
    slot: reading.slot,
    sequence: reading.sequence,
    age_s: rounded(reading.ageS),
    ...basis(reading),
    gauge_mmhg: gauge === null ? null : rounded(toMmhg(gauge)),
    gauge_hpa: gauge === null ? null : rounded(toHpa(gauge)),
    ...uncertainty(reading.expandedUncertaintyPa),
    absolute_hpa: absolute === null ? null : rounded(toHpa(absolute)),
    ...ambientJson(reading.ambient, reading.ambientAgeS),
    band: band === null ? null : bandText(band),
    band_scheme: bandScheme.id,
    temperature_cel: reading.temperatureC,
    supply_v: reading.supplyV,
    uptime_s: reading.uptimeS,
    uptime_saturated: reading.uptimeSaturated,
    rssi_dbm: reading.rssiDbm,
    frequency_khz: reading.frequencyKhz,
    quality: reading.quality,
    calibration: calibrationJson(reading.calibration),
    tag:
      reading.header === null
        ? null
        : {
            firmware: reading.header.firmware,
            sampling_period_s: reading.header.samplingPeriodS,
            sensor_serial: reading.header.sensorSerial,
          },
    counters:
      reading.counters === null
        ? null
        : {
            reuse_cycles: reading.counters.reuseCycles,
            cold_starts: reading.counters.coldStarts,
            fruitless_starts: reading.counters.fruitlessStarts,
            brown_outs: reading.counters.brownOuts,
            frames: reading.counters.frames,
          },
    raw: reading.raw,
  };
}

function waveformJson(waveform: Waveform) {
  return {
    record: "waveform" as const,
    kit_time_us: waveform.kitTimeUs,
    epc: waveform.epc,
    sequence: waveform.sequence,
    interval_s: waveform.intervalS,
    times_s: waveform.timesS,
    ...basis(waveform),
    gauge_mmhg: waveform.gauge.map((sample) => (sample === null ? null : rounded(toMmhg(sample)))),
    ...uncertainty(waveform.expandedUncertaintyPa),
    absolute_hpa: waveform.absolute.map((sample) => (sample === null ? null : rounded(toHpa(sample)))),
    ...ambientJson(waveform.ambient, waveform.ambientAgeS),
    temperature_cel: waveform.temperatureC,
    quality: waveform.quality,
    calibration: calibrationJson(waveform.calibration),
    raw: waveform.raw,
  };
}

function basis({ ambient }: Reading | Waveform) {
  return { basis: ambient === null ? "absolute_only" : "gauge" };
}

function uncertainty(expandedPa: number | null) {
  return {
    expanded_uncertainty_mmhg: expandedPa === null ? null : rounded(expandedPa / PASCAL_PER_MMHG),
    expanded_uncertainty_hpa: expandedPa === null ? null : rounded(expandedPa / 100),
    coverage_factor: 2,
  };
}

function ambientJson(ambient: Ambient | null, ageS: number | null) {
  return {
    ambient_hpa: ambient === null ? null : rounded(toHpa(ambient.pressure)),
    ambient_source: ambient?.source ?? "none",
    ambient_age_s: ageS === null ? null : rounded(ageS),
  };
}

function calibrationJson(calibration: Calibration | null) {
  if (calibration === null) return null;
  return {
    copy: calibration.copy,
    date: calibration.date,
    valid_to: calibration.lastValidDate,
    method: calibration.method,
    sensor_serial: calibration.sensorSerial,
    expanded_uncertainty_pa: calibration.expandedUncertaintyPa,
  };
}

function rounded(value: number): number {
  return Number(value.toFixed(DECIMALS));
}
