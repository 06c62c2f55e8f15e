/** A calibration certificate as JSON; schema: vectors/schema/certificate.schema.json. Units stand in the names. */
import { formatFingerprint, layout } from "../../protocol/index.ts";
import { cautions } from "../readings/cautions.ts";
import { PASCAL_PER_MMHG } from "../readings/pressure.ts";
import { lastValidDate } from "../readings/validity.ts";
import type { BenchCalibration, CalibrationResult } from "./bench-calibration.ts";
import { blockReadingPa, dayOf } from "./block.ts";
import { cellReading, type TermId } from "./cell-model.ts";
import { findingSentence } from "./finding.ts";
import type { StaticError } from "./static-errors.ts";

/** Unit of a coefficient, by UCUM's way of writing, and what one raw step of its field is. */
const termUnits: { readonly [term in TermId]: { readonly unit: string; readonly step: number } } = {
  offset: { unit: "Pa", step: 1 / 128 },
  gain: { unit: "1", step: 1 / 1_048_576 },
  temperature_effect: { unit: "Pa/K", step: 1 / 64 },
  gain_temperature: { unit: "1/K", step: 1e-6 },
  curvature: { unit: "1/Pa", step: 1e-9 },
};

export type Certificate = ReturnType<typeof certificateOf>;

/** Members of a certificate. `software` is the program and its version. */
export function certificateOf(
  { settings, run, findings, result }: BenchCalibration & { result: CalibrationResult },
  software: string,
) {
  const { date, validityMonths, reuseCount, reuseLimit, epc, sensorSerial } = settings;
  const { budget, errors, lack, block, temperature, pressureRangePa, temperatureRangeC } = result;
  return {
    record: "calibration_certificate",
    version: 1,
    software,
    layout: layout.layout,
    fingerprint: formatFingerprint(layout.fingerprint),
    note: run.notes.get("note") ?? null,
    tag: { epc, sensor_serial: sensorSerial },
    date,
    valid_until: validityMonths === null ? null : lastValidDate(dayOf(date), validityMonths),
    validity_months: validityMonths,
    reuse: { count: reuseCount, since: 0, limit: reuseLimit },
    method: result.method,
    load: run.load,
    reference: run.notes.get("reference") ?? null,
    range: {
      pressure_low_pa: pressureRangePa[0],
      pressure_high_pa: pressureRangePa[1],
      temperature_low_cel: temperatureRangeC?.[0] ?? null,
      temperature_high_cel: temperatureRangeC?.[1] ?? null,
      ambient_mean_pa: result.ambientPa,
    },
    model: modelOf(result),
    lack_of_fit:
      lack === null
        ? null
        : {
            pure_error_sd_pa: lack.pureErrorSd,
            pure_error_degrees_of_freedom: lack.pureErrorDegreesOfFreedom,
            f: lack.f?.value ?? null,
            f_degrees_of_freedom: lack.f?.degreesOfFreedom ?? null,
          },
    errors: {
      span_pa: errors.spanPa,
      hysteresis: staticError(errors.hysteresis),
      repeatability:
        errors.repeatability === null
          ? null
          : {
              sd_pa: errors.repeatability.sd,
              degrees_of_freedom: errors.repeatability.degreesOfFreedom,
              range: staticError(errors.repeatability.range),
            },
      non_linearity_of_the_cell:
        errors.nonLinearity === null
          ? null
          : {
              terminal: staticError(errors.nonLinearity.terminal),
              independent: staticError(errors.nonLinearity.independent),
              least_squares: staticError(errors.nonLinearity.leastSquares),
            },
      creep: errors.creeps.map(({ input, value, durationS }) => ({
        at_pa: input,
        change_pa: value,
        duration_s: durationS,
      })),
      zero_return: errors.zeroReturns.map(({ cycle, value }) => ({ cycle, change_pa: value })),
    },
    budget: {
      contributions: budget.contributions.map((contribution) => ({
        id: contribution.id,
        origin: contribution.origin,
        distribution: contribution.distribution,
        half_width_pa: contribution.halfWidthPa,
        standard_uncertainty_pa: contribution.standardUncertaintyPa,
        degrees_of_freedom: finite(contribution.degreesOfFreedom),
        note: contribution.note,
      })),
      combined_pa: budget.combinedPa,
      effective_degrees_of_freedom: finite(budget.effectiveDegreesOfFreedom),
      coverage_factor_95_45: budget.coverageFactor,
      coverage_factor: 2,
      expanded_pa: budget.expandedPa,
      expanded_mmhg: budget.expandedPa === null ? null : budget.expandedPa / PASCAL_PER_MMHG,
      in_block_pa: budget.expandedPa === null ? null : Math.ceil(budget.expandedPa),
      excluded: "ambient pressure of the later reading: whoever reads adds it",
    },
    temperature_alone: {
      reference_cel: temperature.referenceC,
      sealed_gas_pa_per_k: temperature.sealedGasPaPerK,
      fitted_pa_per_k: temperature.fittedPaPerK,
      share_of_bound: temperature.share,
      rows: temperature.rows.map((row) => ({
        temperature_cel: row.temperatureC,
        sealed_gas_mmhg: row.sealedGasMmhg,
        fitted_mmhg: row.fittedMmhg,
      })),
    },
    block:
      block === null
        ? null
        : {
            words: block.words.map((word) => word.toString(16).padStart(4, "0")).join(" "),
            raws: block.raws,
          },
    findings: findings.map((found) => ({
      code: found.code,
      line: found.line,
      column: found.column,
      sentence: findingSentence(found),
    })),
    cautions,
    run: runOf(run, result),
  };
}

function modelOf({ choice: { fit, verdicts }, coefficients }: CalibrationResult) {
  const { terms, regression, referenceC } = fit;
  const raws: { readonly [term in TermId]: number } | null = coefficients && {
    offset: coefficients.offset,
    gain: coefficients.gain,
    temperature_effect: coefficients.temperatureEffect,
    gain_temperature: coefficients.gainTemperature,
    curvature: coefficients.curvature,
  };
  return {
    rule: "protocol/COMPENSATION.md",
    reference_temperature_cel: referenceC,
    coefficients: terms.map((term, k) => ({
      term,
      unit: termUnits[term].unit,
      value: fit.coefficients[term],
      standard_uncertainty: known(regression.standardUncertainties[k]!),
      raw: raws?.[term] ?? null,
      quantised: raws === null ? null : raws[term] * termUnits[term].step,
    })),
    correlations: regression.correlations.map((row) => row.map(known)),
    choice: verdicts.map(({ term, kept, reason, f, p, aiccFall }) => ({
      term,
      kept,
      reason,
      f,
      p,
      aicc_fall: aiccFall,
    })),
    residual_sd_pa: known(regression.residualSd),
    degrees_of_freedom: regression.degreesOfFreedom,
  };
}

/** The points as fitted, each with its reading by the block and its error; schema: vectors/schema/bench-run.schema.json. */
function runOf(run: BenchCalibration["run"], { points, choice: { fit }, coefficients }: CalibrationResult) {
  return {
    record: "bench_run",
    version: 1,
    rows_read: run.rowsRead,
    points: points.map((point) => {
      const exact = cellReading(point, fit.coefficients, fit.referenceC).gaugePa;
      const reading = (coefficients && blockReadingPa(point, coefficients)) ?? exact;
      return {
        lines: point.lines,
        time_s: point.timeS,
        cycle: point.cycle,
        direction: point.direction,
        reference_pa: point.referencePa,
        sensor_pa: point.sensorPa,
        temperature_cel: point.temperatureC,
        ambient_pa: point.ambientPa,
        level_pa: point.levelPa,
        plateau: point.plateau,
        reading_pa: reading,
        error_pa: reading - point.referencePa,
      };
    }),
  };
}

function staticError(error: StaticError | null) {
  return error && { value_pa: error.value, at_pa: error.atInput, percent_of_span: 100 * error.ofSpan };
}

/** JSON knows no infinity and no not-a-number: null. */
function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

function known(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}
