/** `plyframe calibrate record`: a bench run from a live reader, step by step; prompts on stderr, answers on stdin. */
import { createInterface } from "node:readline";
import { layout, words } from "../../../protocol/index.ts";
import { BenchRecorder, recordedColumns, recordedHeading, recordedLine } from "../../calibrate/bench-recorder.ts";
import { type BenchSteps, parseSteps, StepsError, usualSteps } from "../../calibrate/bench-steps.ts";
import { usualLimits } from "../../calibrate/stability.ts";
import type { Reader } from "../../reader/reader.ts";
import type { AmbientReport, TagReport } from "../../reader/report.ts";
import type { Reading } from "../../readings/reading.ts";
import { ReadingStream } from "../../readings/reading-stream.ts";
import { CommandError, EXIT } from "../exit.ts";
import { openSink } from "../file-sink.ts";
import { inputName, inputText } from "../input-text.ts";
import { numberOption } from "../number-option.ts";
import { note, say } from "../terminal.ts";
import { withReader } from "../with-reader.ts";

export interface RecordOptions {
  readonly port: string;
  readonly epc?: string;
  readonly steps?: string;
  readonly out?: string;
  readonly period: string;
  readonly patience: string;
  readonly change: string;
  readonly scatter: string;
}

/** How long is looked for the tag. */
const LOOK_S = 3;

const SERVICE = { bank: "user", word: 0, count: words.user.countersA.word + words.user.countersA.words } as const;

export async function recordCommand(options: RecordOptions): Promise<void> {
  const steps = stepsOf(options.steps);
  const periodMs = numberOption("--period", options.period, 10, 60_000);
  const limits = {
    ...usualLimits,
    changePa: numberOption("--change", options.change, 0.1, 1e5),
    scatterPa: numberOption("--scatter", options.scatter, 0.1, 1e5),
  };
  const patienceS = numberOption("--patience", options.patience, 1, 1e5);
  const early: (TagReport | AmbientReport)[] = [];
  let hear = (report: TagReport | AmbientReport) => {
    early.push(report);
  };
  let lost: string | null = null;
  let gone: () => void = () => undefined;
  const attach = (reader: Reader) => {
    reader.on("report", (report) => hear(report));
    reader.on("closed", (reason) => {
      lost = reason;
      gone();
    });
  };
  await withReader(
    { port: options.port },
    async (reader, info) => {
      await reader.startInventory({ periodMs, read: SERVICE });
      const started = new Date().toISOString();
      const stream = new ReadingStream(
        layout,
        { started, barometerUncertaintyPa: info.barometerUncertaintyPa },
        { kind: "kit_barometer" },
      );
      const onReading: { now: (reading: Reading) => void } = { now: () => undefined };
      hear = (report) => {
        for (const outcome of stream.push(report)) if (outcome.kind === "reading") onReading.now(outcome);
      };
      const tag = await findTag(options.epc?.toLowerCase() ?? null, (take) => {
        onReading.now = take;
        for (const report of early.splice(0)) hear(report);
      });
      const sink = options.out === undefined ? null : await openSink(options.out, "the bench run is");
      const write = (line: string) => (sink ? sink.write(`${line}\n`) : say(line));
      for (const line of recordedHeading(tag, started, info.barometerUncertaintyPa)) write(line);
      write(recordedColumns(steps.column));
      const operator = answersFrom(process.stdin);
      const recorder = new BenchRecorder({
        steps,
        limits,
        patienceS,
        operator,
        onRow: (row) => write(recordedLine(row)),
      });
      onReading.now = (reading) => {
        if (reading.epc === tag.epc) recorder.push(reading);
      };
      gone = () => recorder.end();
      const run = await recorder.run();
      gone = () => undefined;
      operator.close();
      await sink?.close();
      note(
        `${steps.steps.length} steps: ${run.taken} taken${run.unsettled > 0 ? ` (${run.unsettled} of them not settled)` : ""}, ${run.skipped} skipped${run.stopped ? ", stopped before the end" : ""}.`,
      );
      if (lost !== null) throw new CommandError(EXIT.device, lost);
      if (run.unsettled > 0 || run.stopped) process.exitCode = EXIT.rejected;
    },
    attach,
  );
}

function stepsOf(file: string | undefined): BenchSteps {
  if (file === undefined) return usualSteps();
  if (file === "-")
    throw new CommandError(EXIT.usage, "--steps -: standard input is for the answers; give the steps as a file");
  try {
    return parseSteps(inputText(file));
  } catch (error) {
    if (error instanceof StepsError) throw new CommandError(EXIT.usage, `${inputName(file)}:${error.message}`);
    throw error;
  }
}

/** The tag asked for, or the only one in the field; its first reading says which sensor it has. */
async function findTag(epc: string | null, listen: (take: (reading: Reading) => void) => void): Promise<Reading> {
  const seen = new Map<string, Reading>();
  listen((reading) => {
    if (reading.header) seen.set(reading.epc, reading);
  });
  const until = performance.now() + LOOK_S * 1000;
  while (performance.now() < until && !(epc !== null && seen.has(epc))) {
    await new Promise((done) => setTimeout(done, 50));
  }
  if (epc !== null) {
    const tag = seen.get(epc);
    if (tag) return tag;
    throw new CommandError(EXIT.device, `tag ${epc} was not seen within ${LOOK_S} s`);
  }
  if (seen.size === 0) throw new CommandError(EXIT.device, `no tag was seen within ${LOOK_S} s`);
  if (seen.size > 1)
    throw new CommandError(
      EXIT.usage,
      `several tags are in the field (${[...seen.keys()].join(", ")}): say which with --epc`,
    );
  return [...seen.values()][0]!;
}

function answersFrom(input: NodeJS.ReadableStream) {
  const lines = createInterface({ input });
  const waiting: ((line: string | null) => void)[] = [];
  const held: string[] = [];
  let closed = false;
  lines.on("line", (line) => {
    const next = waiting.shift();
    if (next) next(line);
    else held.push(line);
  });
  lines.on("close", () => {
    closed = true;
    for (const next of waiting.splice(0)) next(null);
  });
  return {
    tell: note,
    answer: () =>
      new Promise<string | null>((resolve) => {
        const line = held.shift();
        if (line !== undefined) resolve(line);
        else if (closed) resolve(null);
        else waiting.push(resolve);
      }),
    close: () => lines.close(),
  };
}
