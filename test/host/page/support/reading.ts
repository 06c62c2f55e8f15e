/** Invented readings as the server sends them; what a test does not care for is as in a plain good reading. */
import type { Hello, PresenceMessage, ReadingRecord, TimedReading } from "../../../../host/view/messages.ts";

export const EPC = "3066c4409047e14000004b01";
export const OTHER = "3066c4409047e14000004b02";

export function record(changes: Partial<ReadingRecord> = {}): ReadingRecord {
  return {
    record: "reading",
    kit_time_us: 1_000_000,
    epc: EPC,
    slot: "a",
    sequence: 7,
    age_s: 0,
    basis: "gauge",
    gauge_mmhg: 42,
    gauge_hpa: 55.995,
    expanded_uncertainty_mmhg: 0.5,
    expanded_uncertainty_hpa: 0.6666,
    coverage_factor: 2,
    absolute_hpa: 1064.2,
    ambient_hpa: 1008.2,
    ambient_source: "kit_barometer",
    ambient_age_s: 0.1,
    band: "strong",
    band_scheme: "WUWHS 2008",
    temperature_cel: 27.5,
    supply_v: 2.9,
    uptime_s: 12,
    uptime_saturated: false,
    rssi_dbm: -40,
    frequency_khz: 866_300,
    quality: [],
    calibration: null,
    tag: { firmware: "1.0", sampling_period_s: 0.25, sensor_serial: 40_001 },
    counters: null,
    raw: { frame: "", status: 0, pressure: 0, temperature: 0, supply: 0, uptime: 0 },
    ...changes,
  } as ReadingRecord;
}

export function timed(time_s: number, changes: Partial<ReadingRecord> = {}): TimedReading {
  return { time_s, reading: record(changes) };
}

export function hello(changes: Partial<Hello> = {}): Hello {
  return {
    type: "hello",
    contract: 1,
    page: 1,
    program: "0.1.0",
    session: "one",
    source: "simulated",
    source_name: "training-leg",
    scene: "Invented.",
    speed: 1,
    layout: 1,
    fingerprint: "028961a7",
    cautions: [],
    band_scheme: { id: "WUWHS 2008", source: "", edges: "" },
    supply_low_v: 1.8,
    sites: [{ epc: EPC, site: "B1" }],
    started: "2026-11-25T10:00:00Z",
    marks: [],
    state: { type: "state", state: "live", sentence: null, attempt: null, next_try_s: null },
    words: [],
    calibration: {
      type: "calibration",
      phase: "idle",
      epc: null,
      page: null,
      step: null,
      stability: null,
      points: [],
      fit: null,
      csv: null,
    },
    ...changes,
  };
}

export function presence(
  now_s: number,
  counts: { seen: number; failed: number; missed: number | null },
): PresenceMessage {
  const tag = { epc: EPC, ...counts, per_second: 4, age_s: 0, rssi_dbm: -40 };
  return { type: "presence", now_s, rounds_per_second: 4, tags: [tag], dropped: 0 };
}
