/** `plyframe calibrate check`: is a calibrated tag still where its calibration left it? */
import { checkRows } from "../../calibrate/bench-check.ts";
import { consequenceOf } from "../../calibrate/finding.ts";
import { screen } from "../../calibrate/screening.ts";
import { PASCAL_PER_MMHG } from "../../readings/pressure.ts";
import { benchUncertainties } from "../bench-notes.ts";
import { blockOf, expiry } from "../block-file.ts";
import { CommandError, EXIT } from "../exit.ts";
import { inputName } from "../input-text.ts";
import { columns, note, paint, say, sayJson } from "../terminal.ts";
import { type RunOptions, readRun, tell } from "./calibrate.ts";

export interface CheckOptions extends RunOptions {
  readonly certificate: string;
  readonly json?: boolean;
}

export function checkCommand(file: string, options: CheckOptions): void {
  if (file === "-" && options.certificate === "-") {
    throw new CommandError(EXIT.usage, "standard input can be the run or the certificate, not both");
  }
  const { block } = blockOf(options.certificate);
  const expired = expiry(block, new Date().toISOString().slice(0, 10));
  if (expired !== null) note(`plyframe: ${inputName(options.certificate)}: ${expired}`);
  const run = readRun(file, options);
  const screened = screen(run.rows);
  const findings = [...run.findings, ...screened.findings];
  tell(file, { findings });
  const rows = screened.rows.filter(({ direction }) => direction !== "hold");
  if (rows.length === 0) throw new CommandError(EXIT.rejected, `${inputName(file)}: no point to check`);
  const points = checkRows(rows, block, benchUncertainties(run, options));
  const moved = points.filter(({ ratio }) => ratio !== null && ratio > 1).length;
  const unknown = points.filter(({ ratio }) => ratio === null).length;
  const uncovered = points.filter((point) => point.uncovered).length;
  if (options.json) {
    for (const { point, readingPa, errorPa, allowedPa, ratio, uncovered: outside } of points) {
      sayJson({
        record: "calibration_check",
        lines: point.lines,
        reference_pa: point.referencePa,
        reading_pa: readingPa,
        error_pa: errorPa,
        allowed_pa: allowedPa,
        ratio,
        uncovered: outside,
      });
    }
  } else {
    const mmhg = (pa: number | null) => (pa === null ? "?" : (pa / PASCAL_PER_MMHG).toFixed(2));
    const table = points.map(({ point, readingPa, errorPa, allowedPa, ratio, uncovered: outside }) => [
      point.lines.join("+"),
      mmhg(point.referencePa),
      mmhg(readingPa),
      mmhg(errorPa),
      mmhg(allowedPa),
      ratio === null ? "?" : ratio.toFixed(2),
      [ratio !== null && ratio > 1 ? paint.red("moved") : "", outside ? "not covered" : ""].filter(Boolean).join(", "),
    ]);
    const head = ["line", "reference", "reading", "error", "allowed", "ratio", ""];
    for (const line of columns([head, ...table], [1, 2, 3, 4, 5])) say(line);
    say(
      "Pressures in mmHg. Allowed: root sum of squares of the expanded uncertainties of block, reference and ambient.",
    );
  }
  if (uncovered > 0) note(`plyframe: ${uncovered} of ${points.length} points lie outside what the calibration covered`);
  if (unknown > 0)
    note(`plyframe: ${unknown} of ${points.length} points cannot be judged: an uncertainty is not known`);
  if (moved > 0)
    note(
      `plyframe: ${moved} of ${points.length} points lie further off than the uncertainties allow: calibrate the tag anew`,
    );
  else if (unknown === 0) note("Every point lies within what the uncertainties allow.");
  const left = findings.some((found) => consequenceOf(found) !== "warns");
  if (moved > 0 || unknown > 0 || left) process.exitCode = EXIT.rejected;
}
