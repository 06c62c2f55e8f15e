/** The commands with which a tag is designed: match, turnon, budget; each is loaded when it is asked for. */
import type { Command } from "commander";

/** Adds them to the program; `statuses` ends every help text. */
export function addDesign(program: Command, statuses: string): void {
  program
    .command("match")
    .description("a tuning inductor for a tag's antenna and chip, and at what distance and power the tag then works")
    .argument("[scenario]", 'scenario file in JSON (vectors/schema/match.schema.json), or "-"; left out: the defaults')
    .option("--tau-plot <file>", "power transmission coefficient over frequency, as .svg or .png")
    .option("--distance-plot <file>", "power into the chip over distance, as .svg or .png")
    .option("--json", "one JSON line on stdout")
    .addHelpText(
      "after",
      `\nExamples:\n  $ plyframe match\n  $ plyframe match --tau-plot tau.png --distance-plot distance.svg\n  $ printf '{"band": {"name": "us"}}' | plyframe match --json -\n${statuses}`,
    )
    .action(async (file, options) => (await import("./commands/match.ts")).match(file, options));

  program
    .command("turnon")
    .description("realised gain and read range of a tag from a sweep of its turn-on power")
    .argument("[scenario]", 'scenario file in JSON (vectors/schema/turnon.schema.json), or "-"; left out: the defaults')
    .option("--plot <file>", "realised gain over frequency, measured and by the model, as .svg or .png")
    .option("--json", "JSON lines on stdout: one for each row of the sweep, then a summary")
    .addHelpText(
      "after",
      `\nExamples:\n  $ plyframe turnon\n  $ plyframe turnon --plot gain.png\n  $ printf '{"region": "us"}' | plyframe turnon --json -\n${statuses}`,
    )
    .action(async (file, options) => (await import("./commands/turnon.ts")).turnon(file, options));

  program
    .command("budget")
    .description(
      "whether a tag's power carries its measurement: time to first frame, sampling rate, capacitor, brown-outs",
    )
    .argument("[scenario]", 'scenario file in JSON (vectors/schema/budget.schema.json), or "-"; left out: the defaults')
    .option(
      "--match <scenario>",
      'take the level at the chip from a match scenario; "default" for the one match runs alone',
    )
    .option("--dressing <state>", "dry or wet, with --match", "dry")
    .option(
      "--voltage-plot <file>",
      "voltage of the store over time with the firmware's states under it, as .svg or .png",
    )
    .option("--rate-plot <file>", "sustainable sampling rate over power, as .svg or .png")
    .option("--tornado-plot <file>", "what moves an answer most, as .svg or .png")
    .option("--of <answer>", "answer of the tornado plot: first-frame, rate, capacitor or losses", "rate")
    .option("--json", "one JSON line on stdout")
    .addHelpText(
      "after",
      `\nExamples:\n  $ plyframe budget\n  $ plyframe budget --match default --dressing wet\n  $ plyframe budget --voltage-plot store.png --rate-plot rate.svg\n  $ printf '{"store": {"capacitance_uf": 10}}' | plyframe budget --json -\n${statuses}`,
    )
    .action(async (file, options) => (await import("./commands/budget.ts")).budget(file, options));
}
