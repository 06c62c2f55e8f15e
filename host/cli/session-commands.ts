/** The commands about sessions and what may be expected of a wrap; each is loaded when it is asked for. */
import { type Command, Option } from "commander";

const CAUTION = `
Not a medical device: no output recommends treatment.`;

/** Adds them to the program; `statuses` ends every help text. */
export function addSessions(program: Command, statuses: string): void {
  program
    .command("session")
    .description("what a session holds: pressures by site and posture, stiffness, gradient, decay, gaps")
    .argument("<file>", "session file (JSON; vectors/schema/session.schema.json), with its captures beside it")
    .option("--json", "as JSON lines on stdout")
    .addHelpText(
      "after",
      `\nExamples:\n  $ plyframe session vectors/examples/training-leg.session.json\n  $ plyframe session --json vectors/examples/training-leg.session.json | head -1\n${CAUTION}${statuses}`,
    )
    .action(async (file, options) => (await import("./commands/session.ts")).sessionCommand(file, options));

  program
    .command("report")
    .description("a session as one HTML page that prints on two sheets")
    .argument("<file>", "session file")
    .option("--out <file>", "where the page goes; standard output when left out")
    .addHelpText(
      "after",
      `\nExamples:\n  $ plyframe report vectors/examples/training-leg.session.json --out report.html\n${CAUTION}${statuses}`,
    )
    .action(async (file, options) => (await import("./commands/report.ts")).reportCommand(file, options));

  program
    .command("export")
    .description("readings of sessions as CSV or Parquet, results as a FHIR R4 bundle")
    .argument("<files...>", "session files")
    .addOption(new Option("--format <format>", "form of the export").choices(["csv", "parquet", "fhir"]).default("csv"))
    .option("--out <path>", "file, or for parquet an empty folder; standard output when left out")
    .addHelpText(
      "after",
      `\nExamples:\n  $ plyframe export vectors/examples/training-leg.session.json | head -3\n  $ plyframe export --format parquet --out campaign vectors/examples/training-leg.session.json\n  $ plyframe export --format fhir --out bundle.json vectors/examples/training-leg.session.json\n${CAUTION}${statuses}`,
    )
    .action(async (files, options) => (await import("./commands/export.ts")).exportCommand(files, options));

  program
    .command("campaign")
    .description("many sessions together: values by site and posture, missing data, devices due for calibration")
    .argument("<files...>", "session files")
    .option("--json", "as JSON lines on stdout")
    .addHelpText(
      "after",
      `\nExamples:\n  $ plyframe campaign vectors/examples/training-leg.session.json\n${CAUTION}${statuses}`,
    )
    .action(async (files, options) => (await import("./commands/campaign.ts")).campaignCommand(files, options));

  program
    .command("laplace")
    .description("the pressure a planned wrap may give by the equation of Laplace, with its limits")
    .option("--tension <force>", "tension of one layer with its unit, such as 10N or 1kgf")
    .option("--pressure <mmHg>", "instead: the tension that this pressure asks for, such as 40mmHg")
    .option("--layers <number>", "layers that lie over each other", "1")
    .requiredOption("--circumference <length>", "girth of the limb, such as 25cm")
    .requiredOption("--width <length>", "width of the bandage, such as 10cm")
    .option("--thickness <length>", "thickness of one layer, such as 1.5mm: the thick form as well")
    .option("--json", "as JSON on stdout")
    .addHelpText(
      "after",
      `\nExamples:\n  $ plyframe laplace --tension 1kgf --layers 2 --circumference 25cm --width 10cm\n  $ plyframe laplace --pressure 40mmHg --layers 2 --circumference 25cm --width 10cm --thickness 1.5mm\n${CAUTION}${statuses}`,
    )
    .action(async (options) => (await import("./commands/laplace.ts")).laplaceCommand(options));
}
