/** The sub-commands of `plyframe calibrate`, with their options; each is loaded when it is asked for. */
import type { Command } from "commander";

const UNCERTAINTY = "expanded uncertainty (k = 2) of the reference, such as 8Pa, 0.1% or 8Pa+0.05%";

/** Adds the group to the program; `statuses` ends every help text. */
export function addCalibrate(program: Command, statuses: string): void {
  const calibrate = program
    .command("calibrate")
    .description("fit a bench run, record one, check a tag, and write calibration blocks")
    .addHelpText("after", statuses);
  const examples = (...lines: readonly string[]) =>
    `\nExamples:\n${lines.map((line) => `  $ plyframe calibrate ${line}\n`).join("")}${statuses}`;

  withRun(
    calibrate
      .command("fit")
      .description("coefficients, static errors, uncertainty, block and certificate from a bench run in CSV")
      .argument("<file>", 'bench run, or "-" for standard input'),
  )
    .option("--drift <pressure>", "largest drift a year, such as 30Pa; a class value is assumed when left out")
    .option("--validity <months>", 'months the calibration is to last, or "none"', "6")
    .option("--reuse-limit <cycles>", 'reuse cycles after which the tag is to be retired, or "none"', "20")
    .option("--reuse-count <cycles>", "reuse cycles of the tag so far")
    .option("--use <low..high>", "temperatures of use in °C", "20..40")
    .option("--gain <factor>", "gain as designed, for a run at one pressure", "1")
    .option(
      "--assume <contribution=pressure>",
      "half width of a contribution the run does not show; once for each",
      collect,
      [],
    )
    .option("--serial <number>", "serial of the sensor")
    .option("--epc <hex>", "EPC of the tag")
    .option("--date <day>", "day of the run")
    .option("--html <file>", "certificate as a page that prints to two sheets")
    .option("--out <file>", "certificate as JSON, the input of write and check")
    .option("--json", "certificate as one JSON line on stdout")
    .addHelpText(
      "after",
      `
A bench run has a line a reading and columns with units in their names: reference_mmhg (or _hpa, _pa, _kpa, _cmh2o, _psi),
tension_n (_kgf) or weight_kg (_g, _n); sensor_raw or sensor_hpa (absolute); ambient_raw, ambient_hpa or the like; and, when
known, temperature_cel, time_s, cycle, direction (up, down, hold) and step. Lines such as "# sensor_serial: 40001" hold what
is true of the whole run: date, epc, sensor_serial, reuse_count, reference, reference_uncertainty_pa, ambient_uncertainty_pa.
${examples("fit vectors/examples/bench-run.csv", "fit --html certificate.html --out certificate.json vectors/examples/bench-run.csv", "fit --json --assume hysteresis=20Pa vectors/examples/bench-run.csv")}`,
    )
    .action(async (file, options) => (await import("./commands/calibrate.ts")).fitCommand(file, options));

  calibrate
    .command("record")
    .description("record a bench run from a reader, step by step; each load is waited for until it has settled")
    .requiredOption("--port <port>", 'serial device, "tcp:host:port" or "exec:command"')
    .option("--epc <hex>", "EPC of the tag; not needed when it is the only one")
    .option(
      "--steps <file>",
      "steps as CSV: reference_mmhg (or another load), cycle, direction, hold_s; 0 to 100 mmHg and back three times when left out",
    )
    .option("--out <file>", "where the run goes; standard output when left out")
    .option("--period <ms>", "time from one inventory round to the next", "100")
    .option("--patience <seconds>", "kit time after which a load that does not settle is asked about", "60")
    .option("--change <Pa>", "largest change of the trend over the last readings", "5")
    .option("--scatter <Pa>", "largest scatter about it", "10")
    .addHelpText(
      "after",
      examples(
        "record --port /dev/ttyUSB0 --out run.csv",
        'record --port "exec:plyframe kit" --epc 3066c4409047e14000004b01 --steps steps.csv --out run.csv',
      ),
    )
    .action(async (options) => (await import("./commands/calibrate-record.ts")).recordCommand(options));

  withRun(
    calibrate
      .command("check")
      .description("errors of a calibrated tag against what the uncertainties allow, as after a reuse cycle")
      .argument("<file>", 'bench run, or "-" for standard input')
      .requiredOption("--certificate <file>", "certificate in JSON, or a block of 32 bytes in hex"),
  )
    .option("--json", "a JSON line a point on stdout")
    .addHelpText("after", examples("check --certificate certificate.json vectors/examples/bench-run.csv"))
    .action(async (file, options) => (await import("./commands/calibrate-check.ts")).checkCommand(file, options));

  withTag(
    calibrate
      .command("write")
      .description(
        "bring a block into both copies of a tag and read them back; shows what would change unless --write is given",
      )
      .argument("<file>", 'certificate in JSON or a block of 32 bytes in hex, or "-"'),
  )
    .addHelpText(
      "after",
      examples("write --port /dev/ttyUSB0 certificate.json", "write --port /dev/ttyUSB0 --write certificate.json"),
    )
    .action(async (file, options) => (await import("./commands/calibrate-write.ts")).writeCommand(file, options));

  withTag(
    calibrate
      .command("reuse")
      .description(
        "count a reuse cycle (sterilisation) in both copies of a tag's block; shows what would change unless --write is given",
      ),
  )
    .option("--retire-at <cycles>", 'sets the limit of reuse cycles anew, or "none"')
    .addHelpText("after", examples("reuse --port /dev/ttyUSB0 --epc 3066c4409047e14000004b01 --write"))
    .action(async (options) => (await import("./commands/calibrate-write.ts")).reuseCommand(options));

  calibrate
    .command("regress")
    .description("linear least squares on any columns of a CSV, all digits shown: the regression beneath fit")
    .argument("<file>", 'columns with a heading, or "-" for standard input')
    .requiredOption("--response <column>", "column to be explained")
    .requiredOption("--on <columns>", "column or columns, separated by commas, that explain it")
    .option("--degree <number>", "powers of one column", "1")
    .option("--weights <column>", "relative weights")
    .option("--no-intercept", "no constant")
    .option("--at <values>", "predict at these values of the columns")
    .option("--from <response>", "the value of the column at which this response was found")
    .option("--json", "as one JSON line on stdout")
    .addHelpText(
      "after",
      examples("regress --response sensor_raw --on reference_mmhg --degree 2 --at 40 vectors/examples/bench-run.csv"),
    )
    .action(async (file, options) => (await import("./commands/calibrate-regress.ts")).regressCommand(file, options));
}

function withRun(command: Command): Command {
  return command
    .option("--reference-uncertainty <value>", UNCERTAINTY)
    .option("--ambient-uncertainty <pressure>", "expanded uncertainty (k = 2) of the bench's barometer")
    .option("--ambient <pressure>", "ambient pressure of a run without an ambient column, such as 1013.2hPa")
    .option("--barometer-above <m>", "height of the barometer above the tag", "0")
    .option("--temperature <C>", "temperature of a run without a temperature column")
    .option("--circumference <cm>", "of the form, for a run with tensions")
    .option("--width <cm>", "of the strap, for a run with tensions")
    .option("--layers <number>", "of the strap, for a run with tensions")
    .option("--area <cm2>", "that a weight rests on, for a run with weights");
}

function withTag(command: Command): Command {
  return command
    .option("--port <port>", 'serial device, "tcp:host:port" or "exec:command"')
    .option("--llrp <host[:port]>", "a reader that speaks LLRP, at port 5084 unless told otherwise")
    .option("--epc <hex>", "EPC of the tag")
    .option("--password <hex>", "access password", "0")
    .option("--write", "write, after showing what changes");
}

function collect(value: string, earlier: readonly string[]): readonly string[] {
  return [...earlier, value];
}
