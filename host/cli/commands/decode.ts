/** `plyframe decode`: readings from a capture, on standard output or into a file. */
import { ambientSource, NO_BAROMETER } from "../ambient-option.ts";
import type { DecodeOut } from "../decode-out.ts";
import { Decoding } from "../decoding.ts";
import { CommandError, EXIT } from "../exit.ts";
import { type FileSink, openSink } from "../file-sink.ts";
import { goOnCommand } from "../go-on.ts";
import { introduction } from "../introduction.ts";
import { openDecodeOut } from "../open-decode-out.ts";
import { outName } from "../out-name.ts";
import { openRecording } from "../recording.ts";
import { siteMap } from "../sites.ts";
import { isSameFile, openSource, sourceSentence } from "../source.ts";
import { note } from "../terminal.ts";

export interface DecodeOptions {
  readonly ambient: string;
  readonly site: readonly string[];
  readonly rejects?: string;
  readonly json?: boolean;
  readonly out?: string;
  readonly overwrite?: boolean;
  readonly from?: string;
}

export async function decode(file: string, options: DecodeOptions): Promise<void> {
  const ambient = ambientSource(options.ambient);
  const sites = siteMap(options.site);
  const from = firstUnit(options.from);
  const name = options.out === undefined ? null : outName(options.out, ["jsonl", "csv", "parquet", "pcapng"]);
  checkFiles(file, options);
  const source = await openSource(file);
  let rejects: FileSink | null = null;
  let out: DecodeOut | null = null;
  try {
    const recording = await openRecording(source).catch((error) => {
      throw error instanceof CommandError ? error : new CommandError(EXIT.device, sourceSentence(source.name, error));
    });
    if (name) out = await openDecodeOut(name, options.overwrite === true, source.name);
    if (options.rejects !== undefined) rejects = await openSink(options.rejects, "the file of rejects is");
    if (recording.isLlrp && ambient.kind === "kit_barometer") note(NO_BAROMETER);
    if (!options.json) for (const line of introduction()) note(line);
    await new Decoding({
      source,
      recording,
      rejects,
      rejectsName: options.rejects ?? null,
      out,
      ambient,
      sites,
      json: options.json === true,
      from,
      goOn: (at) => goOnCommand({ ...options, file }, at),
    }).run();
  } catch (error) {
    await out?.discard();
    throw error;
  } finally {
    source.close();
    await rejects?.close();
  }
}

/** Number of the first line, packet, frame or message to be written. */
export function firstUnit(text: string | undefined): number {
  if (text === undefined) return 1;
  if (/^[1-9]\d{0,14}$/.test(text)) return Number(text);
  throw new CommandError(EXIT.usage, `--from ${text}: give a whole number, counted from 1`);
}

/** Refuses outputs that are the input, or one file twice. */
export function checkFiles(file: string, { rejects, out, json }: DecodeOptions): void {
  if (json && out !== undefined) {
    throw new CommandError(EXIT.usage, `--json writes to standard output, --out ${out} to a file: give one of them`);
  }
  for (const [option, path] of [
    ["--rejects", rejects],
    ["--out", out],
  ] as const) {
    if (path !== undefined && file !== "-" && isSameFile(file, path)) {
      throw new CommandError(EXIT.usage, `${option} ${path}: is the capture itself, which would be overwritten`);
    }
  }
  if (out !== undefined && out === rejects) {
    throw new CommandError(EXIT.usage, `--out ${out}: is the file of rejects too`);
  }
}
