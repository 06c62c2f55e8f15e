#!/usr/bin/env node
/** The one program. Commands are loaded when they are asked for, so that `--version` answers at once. */
import "./early.ts";
import { Command, CommanderError, Option } from "commander";
import { addCalibrate } from "./calibrate-commands.ts";
import { defectLine, reportDefects } from "./defect.ts";
import { addDesign } from "./design-commands.ts";
import { CommandError, EXIT } from "./exit.ts";
import { addSessions } from "./session-commands.ts";
import { VERSION } from "./version.ts";

const STATUSES = `
Exit status: 0 all good, 1 some records were rejected (each is named), 2 wrong use, 3 device or file trouble,
4 a defect of plyframe itself.`;

const AMBIENT = `Ambient source: "kit" (the kit's barometer), "tag:EPC" (a tag outside the dressing), a typed pressure such as
"1013.2hPa" or "1013.2+-0.5hPa", or "none" (absolute pressure only).`;

const DECODE_OUT = `--out: .jsonl holds the lines of --json; .csv and .parquet one table of readings, a row for each and for each sample
of a burst; .pcapng the reads as they were seen, for Wireshark and for decode. Behind .jsonl, .csv and .pcapng, .gz packs with
gzip and .zst with zstd. The file has its name only when it is whole. Ctrl-C ends it well, prints the command that goes on
from there, and gives the status 130 (143 when the program was told to end).`;

const program = new Command("plyframe")
  .description("Memory, frames, readings and a simulated reader kit for battery-less pressure tags under bandages.")
  .version(VERSION, "-V, --version")
  .showHelpAfterError("(add --help for the options)")
  .configureOutput({ outputError: (text, write) => write(text.replace(/^error: /, "plyframe: ")) })
  .exitOverride()
  .addHelpText("after", STATUSES);

program
  .command("demo")
  .description("read a simulated training leg with four tags through the whole path, live, and keep a capture")
  .option("--seed <number>", "seed of the simulation", "7")
  .option("--speed <factor>", "simulated seconds a second", "4")
  .option("--capture <file>", "where the capture goes", "plyframe-demo.jsonl")
  .option("--overwrite", "replace a capture of another name that is there already")
  .option("--json", "readings as JSON lines on stdout")
  .addHelpText("after", `\nExamples:\n  $ plyframe demo\n  $ plyframe demo --seed 3 --capture leg-3.jsonl\n${STATUSES}`)
  .action(async (options) => (await import("./commands/demo.ts")).demo(options));

program
  .command("layout")
  .description("the memory map, its fingerprint, and a comparison with another layout")
  .argument("[record]", "one record or bank in full, such as frame, calibration or user")
  .option("--fingerprint", "only the fingerprint")
  .option(
    "--against <layout>",
    'compare with a released layout by number, or with a compiled layout: a JSON file, or "-"',
  )
  .option("--json", "as JSON on stdout")
  .addHelpText(
    "after",
    `\nExamples:\n  $ plyframe layout\n  $ plyframe layout frame\n  $ plyframe layout --fingerprint\n  $ plyframe layout --against 1\n${STATUSES}`,
  )
  .action(async (record, options) => (await import("./commands/layout.ts")).layoutCommand(record, options));

program
  .command("explain")
  .description("a hex dump, word by word: every field with its bits, raw integer, value and verdict")
  .argument("<hex...>", 'hex digits, or "-" to read them from standard input')
  .option("--word <address>", "USER word at which the dump starts (found from the bytes when left out)")
  .option("--as <record>", "explain as this record instead of by its place in USER memory")
  .option("--json", "as JSON lines on stdout")
  .addHelpText(
    "after",
    `\nExamples:\n  $ plyframe explain 2101 0007 00c5 7a31 0bd3 a410 0258 a0cd\n  $ echo "2101 0007 00c5 7a31" | plyframe explain --as frame -\n${STATUSES}`,
  )
  .action(async (hex, options) => (await import("./commands/explain.ts")).explainCommand(hex, options));

program
  .command("decode")
  .description(
    "readings from a capture file: JSON Lines, CSV, raw link bytes, raw LLRP messages, pcapng, or packets with LLRP",
  )
  .argument("<file>", 'capture file, as it is or packed with gzip or zstd; or "-" for standard input')
  .option("--ambient <source>", AMBIENT, "kit")
  .option("--site <epc=name>", "name the site of a tag; once for each tag", collect, [])
  .option("--rejects <file>", "keep the rejected records, as they came")
  .option("--json", "readings as JSON lines on stdout")
  .option("--out <file>", "into a file instead, in the form its ending says (below)")
  .option("--overwrite", "replace the file that --out names when it is there already")
  .option("--frames", "check and count the frames of a capture of any size, fast; --out then holds the frames")
  .option("--from <number>", "write from this line (pcapng: packet; link bytes: frame; LLRP: message) on")
  .addHelpText(
    "after",
    `\n${DECODE_OUT}\n\nExamples:\n  $ plyframe decode plyframe-demo.jsonl\n  $ plyframe decode --json plyframe-demo.jsonl | head -3\n  $ plyframe decode --out readings.parquet plyframe-demo.jsonl\n  $ plyframe decode --out leg.pcapng plyframe-demo.jsonl\n  $ plyframe decode --out readings.csv.gz --from 100 plyframe-demo.jsonl\n  $ plyframe decode --ambient 1013.2+-0.5hPa --rejects bad.jsonl - < plyframe-demo.jsonl\n  $ plyframe decode --frames plyframe-demo.jsonl\n${STATUSES}`,
  )
  .action(async (file, options) => {
    if (options.frames) await (await import("./commands/decode-frames.ts")).decodeFrames(file, options);
    else await (await import("./commands/decode.ts")).decode(file, options);
  });

program
  .command("read")
  .description("live readings from a reader kit or an LLRP reader")
  .option("--port <port>", 'serial device, "tcp:host:port", "exec:command" or "file:path" (recorded link bytes)')
  .option("--llrp <host[:port]>", "a reader that speaks LLRP, at port 5084 unless told otherwise")
  .option("--for <seconds>", "stop after this many seconds of kit time")
  .option("--period <ms>", "time from one inventory round to the next", "100")
  .option("--retry <seconds>", "how long to try again when the port is lost", "10")
  .option("--power <dBm>", "transmit power; the kit's own setting when left out")
  .addOption(new Option("--plan <plan>", "channel plan").choices(["eu_lower", "eu_upper", "us"]))
  .option("--ambient <source>", AMBIENT, "kit")
  .option("--site <epc=name>", "name the site of a tag; once for each tag", collect, [])
  .option("--capture <file>", "keep every read in a capture file")
  .option("--append", "go on in a capture that is there already, under a header of its own")
  .option("--overwrite", "replace a capture or link log that is there already")
  .option("--link-log <file>", "keep the bytes from the reader: a kit's for \"file:path\", an LLRP reader's for decode")
  .option("--json", "readings as JSON lines on stdout")
  .addHelpText(
    "after",
    `\nExamples:\n  $ plyframe read --port /dev/ttyUSB0 --capture leg.jsonl\n  $ plyframe read --port /dev/ttyUSB0 --capture leg.jsonl --append\n  $ plyframe read --port "exec:plyframe kit" --for 5\n  $ plyframe read --port tcp:127.0.0.1:4870 --ambient none --json\n  $ plyframe read --llrp 127.0.0.1:5084 --ambient 1013.2+-0.5hPa --for 5\n${STATUSES}`,
  )
  .action(async (options) => (await import("./commands/read.ts")).read(options));

program
  .command("view")
  .description("the bench page: readings, traces, words, power budget and calibration in a browser, served from here")
  .option("--port <port>", 'reader kit: serial device, "tcp:host:port" or "exec:command"; left out: a simulated one')
  .option("--llrp <host[:port]>", "a reader that speaks LLRP, at port 5084 unless told otherwise")
  .option("--replay <file>", "play a capture instead, at the pace of its clock")
  .option("--scenario <name>", "what the simulated tags live through", "training-leg")
  .option("--seed <number>", "seed of the simulation", "7")
  .option("--speed <factor>", "seconds of the simulation or replay in a second", "1")
  .option(
    "--http <address>",
    "where the page is served: 127.0.0.1:4890, with --lan 0.0.0.0:4890, unless told otherwise",
  )
  .option("--lan", "serve other machines too; they need the pairing code that is printed")
  .option("--tls-cert <file>", "certificate chain in PEM, for https: what installs on a phone asks for it")
  .option("--tls-key <file>", "its key in PEM")
  .option("--period <ms>", "time from one inventory round to the next", "100")
  .option("--retry <seconds>", "how long to try again when the port is lost", "3600")
  .option("--power <dBm>", "transmit power; the kit's own setting when left out")
  .addOption(new Option("--plan <plan>", "channel plan").choices(["eu_lower", "eu_upper", "us"]))
  .option("--ambient <source>", AMBIENT, "kit")
  .option("--site <epc=name>", "name the site of a tag; once for each tag", collect, [])
  .option("--capture <file>", "keep every read in a capture file")
  .option("--overwrite", "replace a capture that is there already")
  .addHelpText(
    "after",
    `\nExamples:\n  $ plyframe view\n  $ plyframe view --port /dev/ttyUSB0 --lan\n  $ plyframe view --replay vectors/captures/training-leg.jsonl --speed 2\n${STATUSES}`,
  )
  .action(async (options) => (await import("./commands/view.ts")).view(options));

program
  .command("kit")
  .description("a reader kit in software, with simulated tags, on standard input and output unless told otherwise")
  .option("--scenario <name>", "what the tags live through", "training-leg")
  .option("--seed <number>", "seed of the simulation", "7")
  .option("--speed <factor>", "simulated seconds a second", "1")
  .option("--listen <address>", 'wait for a host on "tcp:host:port"')
  .option("--port <device>", "answer on a serial device")
  .option("--llrp [tcp:host:port]", "be an LLRP reader, on tcp:127.0.0.1:5084 unless told otherwise")
  .addHelpText(
    "after",
    `\nEvery connection meets the tags as they were at the beginning: what an earlier one wrote is gone.\n\nExamples:\n  $ plyframe kit --listen tcp:127.0.0.1:4870\n  $ plyframe kit --port /dev/ttyUSB1 --scenario many-tags --seed 3\n  $ plyframe kit --llrp tcp:127.0.0.1:5084\n${STATUSES}`,
  )
  .action(async (options) => (await import("./commands/kit.ts")).kit(options));

addDesign(program, STATUSES);
addSessions(program, STATUSES);
addCalibrate(program, STATUSES);

program
  .command("inventory")
  .description("which tags are there: identity, sensor bits, signal, rate, age and missed rounds")
  .option("--port <port>", 'serial device, "tcp:host:port" or "exec:command"')
  .option("--llrp <host[:port]>", "a reader that speaks LLRP, at port 5084 unless told otherwise")
  .option("--for <seconds>", "stop after this many seconds of kit time", "5")
  .option("--period <ms>", "time from one inventory round to the next", "100")
  .option("--power <dBm>", "transmit power; the kit's own setting when left out")
  .addOption(new Option("--plan <plan>", "channel plan").choices(["eu_lower", "eu_upper", "us"]))
  .option("--json", "one JSON line a tag on stdout")
  .addHelpText(
    "after",
    `\nExamples:\n  $ plyframe inventory --port "exec:plyframe kit" --for 3\n  $ plyframe inventory --llrp 127.0.0.1:5084\n${STATUSES}`,
  )
  .action(async (options) => (await import("./commands/inventory.ts")).inventory(options));

program
  .command("write")
  .description("calibration block, access password and locks of a tag, read back or tried out; or its end")
  .option("--port <port>", 'serial device, "tcp:host:port" or "exec:command"')
  .option("--llrp <host[:port]>", "a reader that speaks LLRP, at port 5084 unless told otherwise")
  .requiredOption("--epc <hex>", "EPC of the tag")
  .option("--password <hex>", "the tag's access password", "0")
  .option("--calibration <file>", 'certificate in JSON, or the block in hex; "-" for standard input')
  .option("--new-password <hex>", "another access password")
  .option("--lock <area=state>", "kill, access, epc, tid, user: open, password, always_open, never", collect, [])
  .option("--kill <hex>", "the tag's kill password: end the tag for good, and nothing else")
  .option("--dry-run", "show the words before and after, and write nothing")
  .addHelpText(
    "after",
    `\nWhat cannot be undone asks on standard input: always_open and never for the end of the EPC, --kill for all of it.\n\nExamples:\n  $ plyframe write --port "exec:plyframe kit" --epc 3066c4409047e14000004b01 --password 6c656701 --new-password 1234abcd --dry-run\n  $ plyframe write --port "exec:plyframe kit" --epc 3066c4409047e14000004b01 --password 6c656701 --lock user=password\n${STATUSES}`,
  )
  .action(async (options) => (await import("./commands/write.ts")).write(options));

program
  .command("replay")
  .description("judge a reader program in any language: ask it every test vector it declares (vectors/REPLAY.md)")
  .argument("<command...>", "the program and its arguments, behind --")
  .option("--group <name>", "only this group of vectors; may be given more than once", collect, [])
  .option("--timeout <seconds>", "longest wait for one answer", "10")
  .option("--rounds <number>", "make so many new cases for each thing the program declares, and shrink what fails")
  .option("--seed <number>", "seed of the made cases; chosen by chance when left out, and printed")
  .option("--path <path>", "make one case again, by the path that was printed with it")
  .option("--expect-failures <file>", "cases known to fail, one id a line; one that passes is a failure")
  .option("--html <file>", "the result as one HTML page")
  .option("--junit <file>", "the result as JUnit XML")
  .option("--tap <file>", "the result in the Test Anything Protocol")
  .option("--json", "the result as JSON lines on stdout")
  .addHelpText(
    "after",
    `\nExamples:\n  $ plyframe replay -- python3 vectors/kits/python/kit.py\n  $ plyframe replay --group frames --group slots --html result.html -- python3 vectors/kits/python/kit.py\n\nHere 1 says that an answer was wrong, and 3 that the program cannot be started or does not greet.\n${STATUSES}`,
  )
  .action(async (command, options) => (await import("./commands/replay.ts")).replay(command, options));

/** Values of an option that may be given more than once. */
function collect(value: string, earlier: readonly string[]): readonly string[] {
  return [...earlier, value];
}

/** Runs the program and returns the exit status; nothing but the caller ends the process. */
async function run(): Promise<number> {
  try {
    await program.parseAsync();
    return Number(process.exitCode ?? EXIT.good);
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.good : EXIT.usage;
    if (error instanceof CommandError) {
      process.stderr.write(`plyframe: ${error.message}\n`);
      return error.status;
    }
    process.stderr.write(`${defectLine(error)}\n`);
    return EXIT.defect;
  }
}

reportDefects();
void run().then((status) => {
  process.exitCode = status;
});
