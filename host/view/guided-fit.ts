/** The calibration that a guided run gives so far: what `plyframe calibrate fit` makes of its CSV when nothing else is typed. */
import { calibrate } from "../calibrate/bench-calibration.ts";
import { parseBenchRun } from "../calibrate/bench-run.ts";
import { certificateOf } from "../calibrate/certificate.ts";
import { findingSentence } from "../calibrate/finding.ts";
import { NO_GEOMETRY } from "../calibrate/load.ts";
import { PASCAL_PER_MMHG } from "../readings/pressure.ts";
import type { CalibrationFit, CalibrationPoint } from "./messages.ts";

export interface GuidedFit {
  readonly points: readonly CalibrationPoint[];
  /** Null while nothing can be fitted. */
  readonly fit: CalibrationFit | null;
}

/** `unsettled`: steps taken although they had not settled; `software`: program and version, as certificates name it. */
export function guidedFit(csv: string, unsettled: ReadonlySet<number>, software: string): GuidedFit {
  const run = parseBenchRun(csv, { geometry: NO_GEOMETRY, ambientPa: null });
  const noted = (key: string) => (run.notes.has(key) ? Number(run.notes.get(key)) : null);
  const referencePa = noted("reference_uncertainty_pa");
  const calibration = calibrate(run, {
    date: run.notes.get("date")!,
    epc: run.notes.get("epc")!,
    sensorSerial: noted("sensor_serial"),
    reuseCount: noted("reuse_count") ?? 0,
    reuseLimit: 20,
    barometerAboveM: 0,
    benchTemperatureC: null,
    useC: [20, 40],
    designedGain: 1,
    reference: referencePa === null ? null : { expandedPa: referencePa, expandedShare: 0 },
    ambientExpandedPa: noted("ambient_uncertainty_pa"),
    driftPaPerYear: null,
    validityMonths: 6,
    assumed: new Map(),
  });
  const { result } = calibration;
  if (result === null) return { points: [], fit: null };
  const {
    method,
    model,
    budget,
    valid_until,
    block,
    run: fitted,
  } = certificateOf({ ...calibration, result }, software);
  const stepAt = new Map(run.rows.map(({ line, step }) => [line, step!]));
  const points = fitted.points.map((point): CalibrationPoint => {
    const step = stepAt.get(point.lines[0]!)!;
    return {
      step,
      cycle: point.cycle,
      direction: point.direction,
      reference_mmhg: point.reference_pa / PASCAL_PER_MMHG,
      sensor_gauge_mmhg: (point.sensor_pa - point.ambient_pa) / PASCAL_PER_MMHG,
      temperature_cel: point.temperature_cel,
      residual_mmhg: point.error_pa / PASCAL_PER_MMHG,
      unsettled: unsettled.has(step),
    };
  });
  const findings = calibration.findings.map((found) => ({ code: found.code, sentence: findingSentence(found) }));
  return { points, fit: { method, model, budget, valid_until, block, findings } };
}
