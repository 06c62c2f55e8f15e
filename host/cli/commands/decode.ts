/** `plyframe decode`: readings from a capture. */
import { createReadStream, statSync } from "node:fs";
import { layout, type Reason } from "../../../protocol/index.ts";
import { PacketFileError } from "../../capture/packet-file.ts";
import { readingJson } from "../../readings/reading-json.ts";
import { ReadingStream } from "../../readings/reading-stream.ts";
import { ambientSource, NO_BAROMETER } from "../ambient-option.ts";
import { CommandError, EXIT, systemSentence } from "../exit.ts";
import { openSink } from "../file-sink.ts";
import { introduction } from "../introduction.ts";
import { Progress } from "../progress.ts";
import { outcomeLine } from "../reading-text.ts";
import { type DecodeItem, openRecording, type Recording } from "../recording.ts";
import { type Sites, siteMap } from "../sites.ts";
import { countsSentence, Tally } from "../tally.ts";
import { note, outputGone, say, sayJson } from "../terminal.ts";

export interface DecodeOptions {
  readonly ambient: string;
  readonly site: readonly string[];
  readonly rejects?: string;
  readonly json?: boolean;
}

/** A Read that failed on the air is what the capture says, not a fault of the capture. */
const ON_THE_AIR: readonly Reason[] = [
  "tag-lost",
  "tag-memory-overrun",
  "tag-memory-locked",
  "tag-power-insufficient",
  "tag-error",
  "password-wrong",
];

export async function decode(file: string, options: DecodeOptions): Promise<void> {
  const ambient = ambientSource(options.ambient);
  const sites = siteMap(options.site);
  const name = file === "-" ? "standard input" : file;
  const source = file === "-" ? process.stdin : openFile(file, options.rejects);
  const rejects = options.rejects === undefined ? null : await openSink(options.rejects, "the file of rejects is");
  const recording = await openRecording(source, file, name);
  if (recording.isLlrp && ambient.kind === "kit_barometer") note(NO_BAROMETER);
  const progress = new Progress(file === "-" ? null : statSync(file).size);
  const tally = new Tally();
  // A file may hold several captures, one after the other, each with its own header.
  const sessions = [new ReadingStream(layout, { started: null, barometerUncertaintyPa: null }, ambient)];
  let rejected = 0;

  if (!options.json) for (const line of introduction()) note(line);
  let kept: Uint8Array | null = null;
  const reject = (raw: Uint8Array, sentences: readonly string[]) => {
    rejected++;
    for (const sentence of sentences) progress.note(`plyframe: ${sentence}`);
    // Reports of one message come with the same bytes.
    if (raw !== kept) rejects?.write(raw);
    kept = raw;
  };
  const take = (item: DecodeItem) => {
    if ("session" in item) sessions.push(new ReadingStream(layout, item.session, ambient));
    else if ("header" in item) sessions.push(new ReadingStream(layout, item.header, ambient));
    else if ("notice" in item) progress.note(`plyframe: ${item.notice.sentence}`);
    else if ("reject" in item) {
      reject(item.reject.raw, item.reject.becauseOf === null ? [item.reject.sentence] : []);
    } else if ("more" in item) rejects?.write(item.more);
    else {
      const faults: string[] = [];
      for (const outcome of sessions.at(-1)!.push(item.report)) {
        tally.add(outcome);
        if (outcome.kind === "unread") {
          if (!ON_THE_AIR.includes(outcome.reason)) faults.push(`${recording.where(item)}: ${outcome.sentence}`);
        } else if (options.json) sayJson(readingJson(outcome));
        else say(outcomeLine(outcome, sites));
      }
      if (faults.length > 0) reject(item.raw, faults);
    }
  };
  try {
    for await (const item of recording.items) {
      take(item);
      progress.bytes(recording.bytes());
      await rejects?.drained();
      if (outputGone()) return;
    }
  } catch (error) {
    throw new CommandError(EXIT.device, error instanceof PacketFileError ? error.message : systemSentence(name, error));
  } finally {
    progress.end();
    await rejects?.close();
  }
  summary(recording, sessions, tally, rejected, options, sites);
  if (rejected > 0 || recording.isEmpty()) process.exitCode ??= EXIT.rejected;
}

function openFile(file: string, rejects: string | undefined) {
  try {
    const status = statSync(file);
    if (status.isDirectory()) throw Object.assign(new Error(), { code: "EISDIR" });
    const other = rejects === undefined ? undefined : statSync(rejects, { throwIfNoEntry: false });
    if (other?.isFile() && other.dev === status.dev && other.ino === status.ino) {
      throw new CommandError(EXIT.usage, `--rejects ${rejects}: is the capture itself, which would be overwritten`);
    }
  } catch (error) {
    if (error instanceof CommandError) throw error;
    throw new CommandError(EXIT.device, systemSentence(file, error));
  }
  return createReadStream(file, { highWaterMark: 1 << 18 });
}

function summary(
  recording: Recording,
  sessions: readonly ReadingStream[],
  tally: Tally,
  rejected: number,
  options: DecodeOptions,
  sites: Sites,
): void {
  if (!options.json) for (const line of tally.lines(sites)) note(line);
  note(recording.summary());
  note(countsSentence(sessions.map((session) => session.counts)));
  if (rejected === 0) return;
  const kept = options.rejects === undefined ? "--rejects FILE keeps them" : `they are kept in ${options.rejects}`;
  note(`${rejected} records rejected; ${kept}`);
}
