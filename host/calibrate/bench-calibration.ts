/** From a bench run to a calibration: screening, choice of model, static errors, uncertainty and block. */
import type { Coefficients } from "../../protocol/index.ts";
import { pressureAbovePa } from "./atmosphere.ts";
import { type BenchErrors, benchErrors } from "./bench-errors.ts";
import { type BenchPoint, holdsOf, pointsOf } from "./bench-points.ts";
import type { BenchRow, BenchRun } from "./bench-run.ts";
import { type Block, type MethodId, makeBlock, quantise } from "./block.ts";
import { type Budget, combine } from "./budget.ts";
import { chooseModel, type ModelChoice, SIGNIFICANCE, termName } from "./choose-model.ts";
import { type ContributionBasis, contributionsOf, type UncertaintySettings } from "./contributions.ts";
import { fTail } from "./distributions.ts";
import { consequenceOf, type Finding, finding } from "./finding.ts";
import { type LackOfFit, lackOfFit } from "./regression.ts";
import { screen } from "./screening.ts";
import { type TemperatureAlone, temperatureAlone } from "./temperature-alone.ts";

export interface CalibrationSettings extends UncertaintySettings {
  /** ISO date of the bench run. */
  readonly date: string;
  /** EPC in hex; null: not stated. */
  readonly epc: string | null;
  /** Null: not known, and no block can be made. */
  readonly sensorSerial: number | null;
  readonly reuseCount: number;
  readonly reuseLimit: number | null;
  /** How far the barometer hung above the tag, in metres. */
  readonly barometerAboveM: number;
  /** Temperature of a run without a temperature column; null: not known. */
  readonly benchTemperatureC: number | null;
  /** Range of temperatures in use: a run that did not cover it is told. */
  readonly useC: readonly [low: number, high: number];
  /** Gain where one pressure only was applied. */
  readonly designedGain: number;
}

export interface BenchCalibration {
  readonly settings: CalibrationSettings;
  readonly run: BenchRun;
  readonly findings: readonly Finding[];
  /** Null: nothing could be fitted; the findings say why. */
  readonly result: CalibrationResult | null;
}

export interface CalibrationResult {
  readonly points: readonly BenchPoint[];
  readonly choice: ModelChoice;
  readonly method: MethodId;
  readonly errors: BenchErrors;
  readonly lack: LackOfFit | null;
  readonly budget: Budget;
  readonly temperature: TemperatureAlone;
  /** Mean of the run. */
  readonly ambientPa: number;
  /** Covered by the run; null: no temperature is known. */
  readonly temperatureRangeC: readonly [low: number, high: number] | null;
  readonly pressureRangePa: readonly [low: number, high: number];
  /** Null: a coefficient does not fit its field. */
  readonly coefficients: Coefficients | null;
  /** Null: something a block must hold is not known; the findings say what. */
  readonly block: Block | null;
}

/** Calibrates; whatever can still be computed is, and what cannot is in the findings. */
export function calibrate(run: BenchRun, settings: CalibrationSettings): BenchCalibration {
  const screened = screen(run.rows);
  const early = [...run.findings, ...screened.findings];
  const none = (...more: Finding[]) => ({ settings, run, findings: [...early, ...more], result: null });
  if (early.some((found) => consequenceOf(found) === "stops")) return none();
  const rows = screened.rows.map((row) => onTheBench(row, settings));
  const points = rows.some(({ direction }) => direction !== "hold") ? pointsOf(rows) : [];
  if (points.length === 0) return none(finding("points-missing"));
  const temperatures = points.flatMap(({ temperatureC }) => (temperatureC === null ? [] : [temperatureC]));
  const temperatureRangeC = temperatures.length === points.length ? rangeOf(temperatures) : null;
  const referenceC = temperatureRangeC === null ? 25 : Math.round((temperatureRangeC[0] + temperatureRangeC[1]) / 2);
  const choice = chooseModel(points, referenceC, settings.designedGain);
  const errors = benchErrors(points, holdsOf(rows), choice.fit);
  const groups = points.map(({ levelPa, plateau }) => `${levelPa} ${plateau}`);
  // Up and down at one level are the same input to the model, but no repeats of each other: between them lies hysteresis.
  const repeats = points.map(({ direction }, i) => `${groups[i]} ${direction}`);
  const lack = lackOfFit(
    choice.fit.regression,
    choice.fit.errorsPa.map((error) => -error),
    groups,
    repeats,
  );
  const ambientPa = points.reduce((total, point) => total + point.ambientPa, 0) / points.length;
  const pressureRangePa = rangeOf(points.map(({ referencePa }) => referencePa));
  const quantised = quantise(choice.fit);
  const coefficients = "code" in quantised ? null : quantised;
  const basis = { fit: choice.fit, errors, lack, ambientPa, temperatureRangeC, pressureRangePa };
  const groupSize = points.length / new Set(groups).size;
  const budget = combine(contributionsOf({ ...basis, groupSize, coefficients }, settings));
  const method = methodOf(run, choice, points);
  const block = coefficients === null ? quantised : blockOf(basis, coefficients, method, budget, settings);
  const findings = [
    ...early,
    ...("code" in block ? [block as Finding] : []),
    ...judge({ choice, points, errors, lack, budget, temperatureRangeC, pressureRangePa }, settings),
  ];
  const temperature = temperatureAlone(choice.fit, ambientPa);
  const made = "code" in block ? null : (block as Block);
  const result = { points, choice, method, errors, lack, budget, temperature, ambientPa, coefficients, block: made };
  return { settings, run, findings, result: { ...result, temperatureRangeC, pressureRangePa } };
}

/** A row with its temperature and with the ambient pressure at the tag's height. */
function onTheBench(row: BenchRow, { barometerAboveM, benchTemperatureC }: CalibrationSettings): BenchRow {
  return {
    ...row,
    temperatureC: row.temperatureC ?? benchTemperatureC,
    ambientPa: barometerAboveM === 0 ? row.ambientPa : pressureAbovePa(row.ambientPa, -barometerAboveM),
  };
}

function methodOf({ load }: BenchRun, { fit }: ModelChoice, points: readonly BenchPoint[]): MethodId {
  if (!fit.terms.includes("gain")) return "zero_only";
  if (load === "tension") return "limb_form";
  if (fit.terms.includes("temperature_effect")) return "bench_with_temperature";
  return new Set(points.map(({ levelPa }) => levelPa)).size === 2 ? "bench_two_point" : "bench_multi_point";
}

function blockOf(
  { temperatureRangeC, pressureRangePa }: Pick<ContributionBasis, "temperatureRangeC" | "pressureRangePa">,
  coefficients: Coefficients,
  method: MethodId,
  budget: Budget,
  settings: CalibrationSettings,
): Block | Finding {
  if (settings.sensorSerial === null) return finding("block-range", "the serial of the sensor is not known");
  if (temperatureRangeC === null) return finding("block-range", "the temperature of the run is not known");
  const [low, high] = [Math.ceil(temperatureRangeC[0]), Math.floor(temperatureRangeC[1])];
  const { date, sensorSerial, reuseCount, reuseLimit, validityMonths } = settings;
  return makeBlock(coefficients, {
    method,
    date,
    sensorSerial,
    reuseCount,
    reuseLimit,
    validityMonths,
    expandedUncertaintyPa: budget.expandedPa,
    // A run within one degree covers the whole degrees on both sides of it.
    temperatureLowC: Math.min(low, high),
    temperatureHighC: Math.max(low, high),
    spanHpa: Math.min(255, Math.max(1, Math.floor(pressureRangePa[1] / 100 + 1e-6))),
  });
}

type Judged = Pick<
  CalibrationResult,
  "choice" | "points" | "errors" | "lack" | "budget" | "temperatureRangeC" | "pressureRangePa"
>;

function judge(
  { choice, points, errors, lack, budget, temperatureRangeC, pressureRangePa }: Judged,
  { useC }: CalibrationSettings,
): Finding[] {
  const found: Finding[] = [];
  const { terms, regression } = choice.fit;
  const levels = new Set(points.map(({ levelPa }) => levelPa)).size;
  const [low, high] = pressureRangePa;
  if (levels === 1) found.push(finding("one-pressure-only", `${low.toFixed(0)} Pa`));
  else if (low > 0.05 * high) found.push(finding("zero-not-covered", `lowest pressure ${low.toFixed(0)} Pa`));
  if (regression.degreesOfFreedom === 0)
    found.push(finding("points-too-few", `${points.length} for ${terms.length} coefficients`));
  if (levels > 1 && errors.hysteresis === null) found.push(finding("one-direction-only"));
  if (errors.repeatability === null) found.push(finding("no-replicates"));
  if (temperatureRangeC === null) found.push(finding("temperature-missing"));
  else if (temperatureRangeC[0] > useC[0] + 0.5 || temperatureRangeC[1] < useC[1] - 0.5) {
    const [from, to] = temperatureRangeC.map((value) => value.toFixed(1));
    found.push(finding("temperature-not-covered", `run ${from} to ${to} °C, use ${useC[0]} to ${useC[1]} °C`));
  }
  regression.correlations.forEach((row, i) => {
    row.forEach((r, k) => {
      if (k >= i || !(Math.abs(r) > 0.99)) return;
      found.push(finding("terms-confounded", `${termName(terms[k]!)} and ${termName(terms[i]!)}, r = ${r.toFixed(3)}`));
    });
  });
  if (lack?.f) {
    const p = fTail(lack.f.value, lack.f.degreesOfFreedom);
    const [a, b] = lack.f.degreesOfFreedom;
    if (p < SIGNIFICANCE) found.push(finding("fit-lacking", `F(${a}, ${b}) = ${lack.f.value.toPrecision(3)}`));
  }
  for (const { id, origin, note } of budget.contributions) {
    if (origin === "unknown") found.push(finding("contribution-unknown", `${id.replaceAll("_", " ")}: ${note}`));
  }
  return found;
}

function rangeOf(values: readonly number[]): [number, number] {
  return [Math.min(...values), Math.max(...values)];
}
