/** Settings of a calibration, for tests: everything stated, nothing assumed but the drift. */
import type { CalibrationSettings } from "../../../host/calibrate/bench-calibration.ts";
import { calibrate } from "../../../host/calibrate/bench-calibration.ts";
import { parseBenchRun, type RunSettings } from "../../../host/calibrate/bench-run.ts";
import { NO_GEOMETRY } from "../../../host/calibrate/load.ts";
import { inventCsv, inventRows, type Plan, plan, type Truth, truth } from "../../support/invented-bench-run.ts";

export const settings: CalibrationSettings = {
  date: "2026-02-17",
  epc: "3066c4409047e14000004b01",
  sensorSerial: 40_001,
  reuseCount: 1,
  reuseLimit: 20,
  barometerAboveM: 0,
  benchTemperatureC: null,
  useC: [20, 40],
  designedGain: 1,
  reference: { expandedPa: 8, expandedShare: 0 },
  ambientExpandedPa: 10,
  driftPaPerYear: 30,
  validityMonths: 6,
  assumed: new Map(),
};

export const asColumnsSay: RunSettings = { geometry: NO_GEOMETRY, ambientPa: null };

/** Calibration of an invented run. */
export function calibrateInvented(
  seed = 11,
  what: Partial<Truth> = {},
  how: Partial<Plan> = {},
  given: Partial<CalibrationSettings> = {},
) {
  const csv = inventCsv(inventRows(seed, { ...truth, ...what }, { ...plan, ...how }));
  return calibrate(parseBenchRun(csv, asColumnsSay), { ...settings, ...given });
}

/** Codes of the findings, sorted, each once. */
export function codesOf({ findings }: { findings: readonly { code: string }[] }): string[] {
  return [...new Set(findings.map(({ code }) => code))].sort();
}
