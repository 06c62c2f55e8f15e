/** What `decode` is told, with and without --frames. */
import { CommandError, EXIT } from "./exit.ts";
import { isSameFile } from "./source.ts";

export interface DecodeOptions {
  readonly ambient: string;
  readonly site: readonly string[];
  readonly rejects?: string;
  readonly json?: boolean;
  readonly out?: string;
  readonly overwrite?: boolean;
  readonly from?: string;
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
