/** `plyframe calibrate regress`: the regression beneath the calibration, on any columns, with all its digits. */
import Papa from "papaparse";
import { fTail } from "../../calibrate/distributions.ts";
import {
  type Column,
  inversePrediction,
  lackOfFit,
  powers,
  RegressionError,
  regress,
} from "../../calibrate/regression.ts";
import { CommandError, EXIT } from "../exit.ts";
import { inputName, inputText } from "../input-text.ts";
import { numberOption } from "../number-option.ts";
import { say, sayJson, columns as table } from "../terminal.ts";

export interface RegressOptions {
  readonly response: string;
  readonly on: string;
  readonly degree: string;
  readonly weights?: string;
  /** False after --no-intercept. */
  readonly intercept: boolean;
  readonly at?: string;
  readonly from?: string;
  readonly json?: boolean;
}

export function regressCommand(file: string, options: RegressOptions): void {
  const { column } = tableOf(file);
  const degree = numberOption("--degree", options.degree, 1, 20);
  const names = options.on.split(",").map((name) => name.trim());
  if (degree > 1 && names.length > 1) throw new CommandError(EXIT.usage, "--degree: powers are of one column");
  const regressors: readonly Column[] = degree > 1 ? powers(column(names[0]!), degree) : names.map(column);
  const response = column(options.response);
  const { intercept } = options;
  const weights = options.weights === undefined ? undefined : column(options.weights);
  let fit: ReturnType<typeof regress>;
  try {
    fit = regress({ columns: regressors, response, intercept, ...(weights && { weights }) });
  } catch (error) {
    if (!(error instanceof RegressionError || error instanceof RangeError)) throw error;
    throw new CommandError(EXIT.rejected, `${inputName(file)}: ${error.message}`);
  }
  const terms = [...(intercept ? ["constant"] : []), ...(degree > 1 ? powerNames(names[0]!, degree) : names)];
  const values = names.map(column);
  const keys = response.map((_, i) => values.map((rows) => rows[i]).join(" "));
  const lack = weights ? null : lackOfFit(fit, response, keys);
  const prediction = predictionOf(fit, degree, names, options);
  if (options.json) {
    sayJson({
      terms,
      coefficients: fit.coefficients,
      standard_uncertainties: fit.standardUncertainties,
      covariance: fit.covariance,
      correlations: fit.correlations,
      residual_sd: fit.residualSd,
      residual_sum_of_squares: fit.residualSumOfSquares,
      degrees_of_freedom: fit.degreesOfFreedom,
      r_squared: fit.rSquared,
      f: fit.f && { value: fit.f.value, degrees_of_freedom: fit.f.degreesOfFreedom },
      lack_of_fit: lack?.f ? { f: lack.f.value, degrees_of_freedom: lack.f.degreesOfFreedom } : null,
      residuals: fit.residuals,
      prediction,
    });
    return;
  }
  const rows = terms.map((term, k) => [term, digits(fit.coefficients[k]!), digits(fit.standardUncertainties[k]!)]);
  for (const line of table([["term", "coefficient", "standard uncertainty"], ...rows], [1, 2])) say(line);
  say(`residual standard deviation ${digits(fit.residualSd)}, ${fit.degreesOfFreedom} degrees of freedom`);
  say(`R² ${digits(fit.rSquared)}${fit.f ? `, F(${fit.f.degreesOfFreedom.join(", ")}) ${digits(fit.f.value)}` : ""}`);
  if (lack?.f) {
    const p = fTail(lack.f.value, lack.f.degreesOfFreedom);
    say(`lack of fit F(${lack.f.degreesOfFreedom.join(", ")}) ${lack.f.value.toPrecision(4)}, p ${p.toPrecision(2)}`);
  }
  if (terms.length > 1 && fit.degreesOfFreedom > 0) {
    say("correlations");
    for (const line of table(
      fit.correlations.map((row, i) => [`  ${terms[i]}`, ...row.slice(0, i + 1).map((r) => r.toFixed(6))]),
    ))
      say(line);
  }
  if (prediction) {
    const what = prediction.at === null ? `inverse of ${prediction.from}` : `at ${prediction.at.join(", ")}`;
    say(`${what}: ${digits(prediction.value)}, standard uncertainty ${digits(prediction.standard_uncertainty)}`);
  }
}

function predictionOf(
  fit: ReturnType<typeof regress>,
  degree: number,
  names: readonly string[],
  { at, from, intercept }: RegressOptions,
) {
  if (at !== undefined) {
    const row = at.split(",").map((value) => numberOption("--at", value, -1e300, 1e300));
    if (row.length !== names.length) throw new CommandError(EXIT.usage, `--at ${at}: give ${names.length} numbers`);
    const point = degree > 1 ? powers([row[0]!], degree).map(([value]) => value!) : row;
    const { value, standardUncertainty } = fit.predict(point);
    return { at: row, from: null, value, standard_uncertainty: standardUncertainty };
  }
  if (from === undefined) return null;
  if (!intercept || degree > 1 || names.length > 1) {
    throw new CommandError(EXIT.usage, "--from: only a straight line with a constant is read backwards");
  }
  const response = numberOption("--from", from, -1e300, 1e300);
  const { value, standardUncertainty } = inversePrediction(fit, response);
  return { at: null, from: response, value, standard_uncertainty: standardUncertainty };
}

interface NumberTable {
  /** Throws a CommandError for a cell that is no number. */
  column(name: string): number[];
}

/** A table by its heading. Separated by comma, semicolon, tab or blanks; lines that begin with # are left out. */
function tableOf(file: string): NumberTable {
  const lines = inputText(file)
    .split(/\r?\n/)
    .flatMap((text, i) => (text.trim() === "" || text.startsWith("#") ? [] : [{ text: text.trim(), line: i + 1 }]));
  const [head, ...rows] = lines;
  if (!head || rows.length === 0) throw new CommandError(EXIT.rejected, `${inputName(file)}: no row of numbers`);
  const delimiter = [",", ";", "\t"].find((mark) => head.text.includes(mark));
  const cells = (text: string) =>
    delimiter ? Papa.parse<string[]>(text, { delimiter }).data[0]!.map((cell) => cell.trim()) : text.split(/\s+/);
  const names = cells(head.text);
  const content = rows.map(({ text, line }) => ({ line, cells: cells(text) }));
  return {
    column: (name) => {
      const at = names.indexOf(name);
      if (at < 0) {
        throw new CommandError(EXIT.usage, `${inputName(file)}: no column ${name}; there are ${names.join(", ")}`);
      }
      return content.map(({ line, cells: row }) => {
        const text = row[at] ?? "";
        const value = text === "" ? Number.NaN : Number(text);
        if (Number.isFinite(value)) return value;
        throw new CommandError(EXIT.rejected, `${inputName(file)}:${line}: ${name}: "${text}" is no number`);
      });
    },
  };
}

function powerNames(name: string, degree: number): string[] {
  return Array.from({ length: degree }, (_, i) => (i === 0 ? name : `${name}^${i + 1}`));
}

function digits(value: number): string {
  return value.toPrecision(15);
}
