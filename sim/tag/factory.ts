/** How a tag leaves the factory and the calibration bench. */

import { layout } from "../../protocol/index.ts";
import type { TagScenario } from "../scenario/scenario.ts";
import { TagMemory } from "./memory.ts";
import { flagBits, rawOfValue, rawOfWord, recordWords, regionOf } from "./words.ts";

const RESERVED = 0;
const EPC = 1;
const TID = 2;
const USER = 3;

/** Time between samples while powered. */
const SAMPLING_PERIOD_S = 0.25;

/** Memory of a commissioned tag that has never been powered since: banks filled, slots and burst empty. */
export function commissionedMemory(tag: TagScenario): TagMemory {
  const memory = new TagMemory();
  const place = (bank: number, region: string, record: string, raws: Readonly<Record<string, number>>) =>
    memory.poke(bank, regionOf(bank, region).word, recordWords(record, raws));
  const epc = wordsOfHex(tag.epc);

  place(RESERVED, "passwords", "passwords", { kill_password: 0, access_password: tag.accessPassword });
  place(EPC, "epc", "epc", {
    epc_length: epc.length,
    indicators: flagBits("epc", "indicators", ["user_memory", "extended"]),
    ...elements("epc", epc),
  });
  place(EPC, "xpc", "xpc", { xpc_w1: flagBits("xpc", "xpc_w1", ["full_function_sensor"]) });
  place(TID, "tid", "tid", {
    features: flagBits("tid", "features", ["xtid"]),
    // Designer and model 0: an invented chip must not pass for anyone's.
    designer: 0,
    model: 0,
    ...elements("serial", [tag.chipSerial / 2 ** 32, tag.chipSerial / 2 ** 16, tag.chipSerial].map(low16)),
  });
  place(USER, "header", "header", {
    fingerprint: layout.fingerprint,
    firmware_major: 1,
    firmware_minor: 0,
    sampling_period: rawOfValue("header", "sampling_period", SAMPLING_PERIOD_S),
    sensor_serial: tag.sensorSerial,
  });
  const counters = { reuse_cycles: tag.reuseCycles, cold_starts: 0, fruitless_starts: 0, brown_outs: 0, frames: 0 };
  place(USER, "counters_a", "counters", counters);
  place(USER, "counters_b", "counters", counters);
  place(USER, "calibration_1", "calibration", calibrationRaws(tag));
  place(USER, "calibration_2", "calibration", calibrationRaws(tag));
  return memory;
}

/**
 * The calibration block as a bench would find it: the inverse of what the cell does, to first order in load and
 * temperature and rounded to the block's integers. The drift since then is not in it.
 */
export function calibrationRaws({ cell, calibration, sensorSerial, reuseCycles }: TagScenario): Record<string, number> {
  const raw = (field: string, value: number) => rawOfValue("calibration", field, value);
  return {
    method: rawOfWord("calibration", "method", calibration.method),
    date: calibration.dateDays,
    sensor_serial: sensorSerial,
    reuse_since: calibration.reuseSince,
    reuse_count: reuseCycles,
    offset: raw("offset", -cell.offsetPa),
    reuse_limit: calibration.reuseLimit,
    gain: raw("gain", 1 / cell.share),
    temperature_effect: raw("temperature_effect", cell.temperatureEffectPaPerK),
    gain_temperature: raw("gain_temperature", -cell.sharePerKelvin),
    curvature: raw("curvature", cell.stiffeningPerPa),
    reference_temperature: raw("reference_temperature", cell.referenceC),
    expanded_uncertainty: raw("expanded_uncertainty", calibration.expandedUncertaintyPa),
    temperature_low: calibration.temperatureLowC,
    temperature_high: calibration.temperatureHighC,
    span: calibration.spanHpa,
    validity: rawOfWord("calibration", "validity", "not_limited"),
  };
}

function low16(value: number): number {
  return Math.floor(value) % 65_536;
}

function elements(id: string, words: readonly number[]): Record<string, number> {
  return Object.fromEntries(words.map((word, index) => [`${id}[${index}]`, word]));
}

function wordsOfHex(hex: string): number[] {
  return Array.from({ length: hex.length / 4 }, (_, i) => Number.parseInt(hex.slice(4 * i, 4 * i + 4), 16));
}
