/** A calibration as text for a terminal. */
import type { CalibrationResult, CalibrationSettings } from "../calibrate/bench-calibration.ts";
import { termName } from "../calibrate/choose-model.ts";
import { PASCAL_PER_MMHG } from "../readings/pressure.ts";
import { columns, fold, paint } from "./terminal.ts";

const UNITS = {
  offset: "Pa",
  gain: "",
  temperature_effect: "Pa/K",
  gain_temperature: "1/K",
  curvature: "1/Pa",
} as const;

export function fitReport(settings: CalibrationSettings, result: CalibrationResult): string[] {
  return [
    ...model(result),
    "",
    ...errors(result),
    "",
    ...budget(result),
    "",
    ...temperature(result),
    "",
    ...block(settings, result),
  ];
}

function model({ choice: { fit, verdicts }, points, method }: CalibrationResult): string[] {
  const { regression, terms, coefficients, referenceC } = fit;
  const rows = terms.map((term, k) => [
    `  ${termName(term)}`,
    coefficients[term].toPrecision(7),
    figure(regression.standardUncertainties[k]!),
    UNITS[term],
    regression.correlations[k]!.slice(0, k)
      .map((r) => (Number.isNaN(r) ? "?" : r.toFixed(3)))
      .join("  "),
  ]);
  const scatter = `scatter about the fit ${figure(regression.residualSd)} Pa, ${regression.degreesOfFreedom} degrees of freedom`;
  return [
    paint.bold(
      `Model (${method.replaceAll("_", " ")}, ${points.length} points, reference temperature ${referenceC} °C)`,
    ),
    ...columns([["  coefficient", "value", "u", "unit", "correlations"], ...rows], [1, 2]),
    `  ${scatter}`,
    ...verdicts.map(({ term, reason }) => `  ${termName(term)}: ${reason}`),
  ];
}

function errors({ errors: e, lack }: CalibrationResult): string[] {
  const rows: string[][] = [];
  const add = (name: string, pa: number | null, where: string) =>
    rows.push([
      `  ${name}`,
      pa === null ? "not known" : (pa / PASCAL_PER_MMHG).toFixed(3),
      pa === null ? "" : `${((100 * pa) / e.spanPa).toFixed(3)} %`,
      where,
    ]);
  const at = (input: number) => `at ${(input / PASCAL_PER_MMHG).toFixed(1)} mmHg`;
  add("hysteresis", e.hysteresis?.value ?? null, e.hysteresis ? at(e.hysteresis.atInput) : "");
  add(
    "repeatability (sd)",
    e.repeatability?.sd ?? null,
    e.repeatability ? `${e.repeatability.degreesOfFreedom} degrees of freedom` : "",
  );
  if (e.nonLinearity) {
    const { terminal, independent, leastSquares } = e.nonLinearity;
    add("non-linearity of the cell, terminal line", terminal.value, at(terminal.atInput));
    add("non-linearity of the cell, independent line", independent.value, at(independent.atInput));
    add("non-linearity of the cell, least squares line", leastSquares.value, at(leastSquares.atInput));
  }
  for (const { input, value, durationS } of e.creeps)
    add("creep at hold", value, `${at(input)} over ${durationS.toFixed(0)} s`);
  const zero = [...e.zeroReturns].sort((a, b) => Math.abs(b.value) - Math.abs(a.value))[0];
  if (zero) add("zero return, largest", zero.value, `cycle ${zero.cycle}`);
  const table = columns([["  error", "mmHg", "of span", ""], ...rows], [1, 2]);
  const fit = lack?.f
    ? [
        `  lack of fit: F(${lack.f.degreesOfFreedom.join(", ")}) = ${lack.f.value.toPrecision(3)} against the scatter of replicates`,
      ]
    : [];
  return [paint.bold("Static errors"), ...table, ...fit];
}

function budget({ budget: b }: CalibrationResult): string[] {
  const rows = b.contributions.map(
    ({ id, origin, distribution, halfWidthPa, standardUncertaintyPa, degreesOfFreedom, note }) => [
      `  ${id.replaceAll("_", " ")}`,
      origin,
      halfWidthPa === null ? distribution : `±${halfWidthPa.toPrecision(3)} Pa`,
      standardUncertaintyPa === null ? "not known" : `${standardUncertaintyPa.toPrecision(3)} Pa`,
      Number.isFinite(degreesOfFreedom) ? degreesOfFreedom.toFixed(0) : "",
      note,
    ],
  );
  const table = columns([["  contribution", "origin", "width", "u", "dof", ""], ...rows], [3, 4]);
  const dof = b.effectiveDegreesOfFreedom;
  const nu = dof > 999 ? "more than 999" : dof.toFixed(0);
  const last =
    b.expandedPa === null
      ? paint.yellow("  No expanded uncertainty: a contribution is not known.")
      : `  combined ${b.combinedPa!.toPrecision(3)} Pa, ${nu} effective degrees of freedom (k for 95.45 %: ${b.coverageFactor.toFixed(3)}); U (k = 2) ${(b.expandedPa / PASCAL_PER_MMHG).toFixed(3)} mmHg, ${Math.ceil(b.expandedPa)} Pa in the block; ambient of the reading excluded`;
  return [
    paint.bold("Uncertainty of a later reading"),
    ...table,
    ...fold(last.trimStart(), 118).map((line) => `  ${line}`),
  ];
}

function temperature({ temperature: t }: CalibrationResult): string[] {
  const rows = t.rows.map((row) => [
    `  ${row.temperatureC} °C`,
    signed(row.sealedGasMmhg),
    row.fittedMmhg === null ? "not known" : signed(row.fittedMmhg),
  ]);
  return [
    paint.bold("Temperature alone, in mmHg, from the reference temperature and before any correction"),
    ...columns([["  at", "rigid sealed cell (bound)", "this cell"], ...rows], [1, 2]),
  ];
}

function block({ reuseCount, reuseLimit }: CalibrationSettings, { block: b }: CalibrationResult): string[] {
  if (!b) return [paint.yellow("No calibration block: see the messages.")];
  const words = b.words.map((word) => word.toString(16).padStart(4, "0")).join(" ");
  const limit = reuseLimit === null ? "no limit" : `to be retired at ${reuseLimit}`;
  return [paint.bold(`Calibration block (reuse cycles ${reuseCount}, ${limit})`), `  ${words}`];
}

function figure(value: number): string {
  return Number.isNaN(value) ? "?" : value.toPrecision(3);
}

function signed(value: number): string {
  return value > 0 ? `+${value.toFixed(2)}` : value.toFixed(2);
}
