/** `plyframe decode`: readings from a capture, on standard output or into a file. */
import { setFlagsFromString } from "node:v8";
import { ambientSource, NO_BAROMETER } from "../ambient-option.ts";
import { checkFiles, type DecodeOptions, firstUnit } from "../decode-options.ts";
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
import { openSource, sourceSentence } from "../source.ts";
import { note } from "../terminal.ts";

/** The part of the heap for what is new grows with the rate of garbage, by 50 MB here; held small it costs no time. */
const SMALL_HEAP = "--semi-space-growth-factor=1";

export async function decode(file: string, options: DecodeOptions): Promise<void> {
  setFlagsFromString(SMALL_HEAP);
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
