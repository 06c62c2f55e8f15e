/** What the name of an output says of its form. */
import { CommandError, EXIT } from "./exit.ts";

export type OutFormat = "jsonl" | "csv" | "parquet" | "pcapng";

export interface OutName {
  readonly path: string;
  readonly format: OutFormat;
  readonly packing: "gzip" | "zstd" | null;
}

const ENDING = /\.(jsonl|csv|parquet|pcapng)(\.gz|\.zst)?$/i;

/** Throws a CommandError for a name whose ending is not one of `formats`, alone or with .gz or .zst behind it. */
export function outName(path: string, formats: readonly OutFormat[]): OutName {
  const [, format, packed] = ENDING.exec(path.toLowerCase()) ?? [];
  if (!formats.includes(format as OutFormat)) {
    const endings = formats.map((one) => `.${one}`).join(", ");
    throw new CommandError(EXIT.usage, `--out ${path}: give a name that ends in one of ${endings}`);
  }
  if (format === "parquet" && packed) {
    throw new CommandError(EXIT.usage, `--out ${path}: Parquet is packed within; leave out ${packed}`);
  }
  const packing = packed === ".gz" ? "gzip" : packed === ".zst" ? "zstd" : null;
  return { path, format: format as OutFormat, packing };
}

/** A name for what goes on where another file ended: `leg.csv.gz` from line 80 on is `leg.from-80.csv.gz`. */
export function nameFrom(path: string, from: number): string {
  const at = /(\.from-\d+)?(\.[a-z0-9]+)?(\.gz|\.zst)?$/i.exec(path)!.index;
  return `${path.slice(0, at)}.from-${from}${path.slice(at).replace(/^\.from-\d+/, "")}`;
}
