/** `plyframe calibrate fit`: from a bench run to coefficients, uncertainty, block and certificate. */
import { writeFileSync } from "node:fs";
import { type BenchCalibration, type CalibrationSettings, calibrate } from "../../calibrate/bench-calibration.ts";
import { type BenchRun, parseBenchRun } from "../../calibrate/bench-run.ts";
import type { ContributionId } from "../../calibrate/budget.ts";
import { certificateOf } from "../../calibrate/certificate.ts";
import { consequenceOf, findingSentence } from "../../calibrate/finding.ts";
import type { FormGeometry } from "../../calibrate/load.ts";
import { cautions } from "../../readings/cautions.ts";
import { benchUncertainties, notedNumber, type UncertaintyOptions } from "../bench-notes.ts";
import { fitReport } from "../calibration-text.ts";
import { CommandError, EXIT, systemSentence } from "../exit.ts";
import { inputName, inputText } from "../input-text.ts";
import { numberOption } from "../number-option.ts";
import { pressureOption } from "../quantity-option.ts";
import { note, say, sayJson } from "../terminal.ts";
import { VERSION } from "../version.ts";

export interface RunOptions extends UncertaintyOptions {
  readonly ambient?: string;
  readonly barometerAbove: string;
  readonly temperature?: string;
  readonly circumference?: string;
  readonly width?: string;
  readonly layers?: string;
  readonly area?: string;
}

export interface FitOptions extends RunOptions {
  readonly drift?: string;
  readonly validity: string;
  readonly reuseLimit: string;
  readonly reuseCount?: string;
  readonly use: string;
  readonly gain: string;
  readonly assume: readonly string[];
  readonly serial?: string;
  readonly epc?: string;
  readonly date?: string;
  readonly html?: string;
  readonly out?: string;
  readonly json?: boolean;
}

export async function fitCommand(file: string, options: FitOptions): Promise<void> {
  const run = readRun(file, options);
  const calibration = calibrate(run, settingsOf(run, options));
  tell(file, calibration);
  const { result } = calibration;
  if (result === null) {
    note(`plyframe: ${inputName(file)}: nothing could be fitted`);
    process.exitCode = EXIT.rejected;
    return;
  }
  const certificate = certificateOf({ ...calibration, result }, `plyframe ${VERSION}`);
  if (options.out !== undefined) keep(options.out, `${JSON.stringify(certificate, null, 2)}\n`);
  if (options.html !== undefined) {
    const { certificateHtml } = await import("../../calibrate/certificate-html.ts");
    keep(options.html, certificateHtml(certificate));
  }
  if (options.json) sayJson(certificate);
  else {
    for (const caution of cautions) note(caution);
    for (const line of fitReport(calibration.settings, result)) say(line);
  }
  if (calibration.findings.some((found) => consequenceOf(found) === "row_left_out")) process.exitCode = EXIT.rejected;
}

/** A bench run from a file, with what its columns leave open typed. */
export function readRun(file: string, options: RunOptions): BenchRun {
  const length = (name: string, text: string | undefined, factor: number, high: number) =>
    text === undefined ? null : numberOption(name, text, 0.001, high) * factor;
  const geometry: FormGeometry = {
    circumference: length("--circumference", options.circumference, 0.01, 200),
    width: length("--width", options.width, 0.01, 50),
    layers: length("--layers", options.layers, 1, 20),
    area: length("--area", options.area, 1e-4, 10_000),
  };
  const ambientPa = options.ambient === undefined ? null : pressureOption("--ambient", options.ambient);
  if (ambientPa !== null && !(ambientPa >= 26_000 && ambientPa <= 126_000)) {
    throw new CommandError(
      EXIT.usage,
      `--ambient ${options.ambient}: an ambient pressure lies between 260 and 1260 hPa`,
    );
  }
  return parseBenchRun(inputText(file), { geometry, ambientPa });
}

/** Findings of a run on standard error, each with file, line and column. */
export function tell(file: string, { findings }: Pick<BenchCalibration, "findings">): void {
  for (const found of findings) {
    const sentence = findingSentence(found);
    note(`plyframe: ${inputName(file)}:${found.line === null ? " " : ""}${sentence}`);
  }
}

function settingsOf(run: BenchRun, options: FitOptions): CalibrationSettings {
  const { notes } = run;
  const limit = options.reuseLimit;
  return {
    date: dateOf(options.date ?? notes.get("date") ?? new Date().toISOString().slice(0, 10)),
    epc: options.epc ?? notes.get("epc") ?? null,
    sensorSerial:
      options.serial === undefined
        ? notedNumber(run, "sensor_serial", 2 ** 32 - 1)
        : numberOption("--serial", options.serial, 1, 2 ** 32 - 1),
    reuseCount:
      options.reuseCount === undefined
        ? (notedNumber(run, "reuse_count", 254) ?? 0)
        : numberOption("--reuse-count", options.reuseCount, 0, 254),
    reuseLimit: limit === "none" ? null : numberOption("--reuse-limit", limit, 1, 254),
    barometerAboveM: numberOption("--barometer-above", options.barometerAbove, -100, 100),
    benchTemperatureC:
      options.temperature === undefined ? null : numberOption("--temperature", options.temperature, -40, 125),
    useC: rangeOf(options.use),
    designedGain: numberOption("--gain", options.gain, 0.25, 4),
    ...benchUncertainties(run, options),
    driftPaPerYear: options.drift === undefined ? null : Math.abs(pressureOption("--drift", options.drift)),
    validityMonths: options.validity === "none" ? null : numberOption("--validity", options.validity, 1, 254),
    assumed: new Map(options.assume.map(assumption)),
  };
}

const ASSUMABLE: readonly ContributionId[] = [
  "reference",
  "fit",
  "repeatability",
  "hysteresis",
  "temperature",
  "ambient_at_calibration",
  "drift",
];

function assumption(text: string): [ContributionId, number] {
  const [id, value] = text.split("=") as [ContributionId, string | undefined];
  if (!ASSUMABLE.includes(id) || value === undefined) {
    throw new CommandError(EXIT.usage, `--assume ${text}: give contribution=pressure, of ${ASSUMABLE.join(", ")}`);
  }
  return [id, Math.abs(pressureOption("--assume", value))];
}

function dateOf(text: string): string {
  const time = Date.parse(`${text}T00:00:00Z`);
  const good = /^\d{4}-\d{2}-\d{2}$/.test(text) && new Date(time || 0).toISOString().startsWith(text);
  if (good && time >= Date.UTC(2020, 0, 1)) return text;
  throw new CommandError(EXIT.usage, `--date ${text}: give a day from 2020-01-01 on, such as 2026-02-17`);
}

function rangeOf(text: string): [number, number] {
  const [, low, high] = /^(-?\d+(?:\.\d+)?)\.\.(-?\d+(?:\.\d+)?)$/.exec(text) ?? [];
  if (low === undefined || !(Number(low) < Number(high))) {
    throw new CommandError(
      EXIT.usage,
      `--use ${text}: give the temperatures of use in °C as low..high, such as 20..40`,
    );
  }
  return [Number(low), Number(high)];
}

function keep(file: string, text: string): void {
  try {
    writeFileSync(file, text);
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(file, error));
  }
}
