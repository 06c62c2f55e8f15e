/** `plyframe export`: readings as CSV or Parquet, results as a FHIR bundle. */
import { mkdir, readdir, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { csvHeading, csvLine } from "../../export/csv.ts";
import { readingRows } from "../../export/reading-rows.ts";
import type { SessionResult } from "../../sessions/session-result.ts";
import { CommandError, EXIT, systemSentence } from "../exit.ts";
import { openSink } from "../file-sink.ts";
import { openAll } from "../open-sessions.ts";
import { note, outputGone, say } from "../terminal.ts";

export interface ExportOptions {
  readonly format: "csv" | "parquet" | "fhir";
  readonly out?: string;
}

export async function exportCommand(files: readonly string[], { format, out }: ExportOptions): Promise<void> {
  if (out !== undefined && files.some((file) => resolve(file) === resolve(out))) {
    throw new CommandError(EXIT.usage, `--out ${out}: is a session file, which would be overwritten`);
  }
  if (format === "parquet") {
    if (out === undefined) throw new CommandError(EXIT.usage, "--format parquet: needs --out with a folder");
    await emptyFolder(out);
    await parquet(await openAll(files), out);
    return;
  }
  if (format === "fhir" && files.length > 1) {
    throw new CommandError(EXIT.usage, "--format fhir: one session file at a time, each is a bundle of its own");
  }
  const results = await openAll(files);
  const text = format === "csv" ? csvLines(results) : await fhirLines(results);
  if (out === undefined) {
    for (const line of text) {
      if (outputGone()) return;
      say(line.trimEnd());
    }
    return;
  }
  const sink = await openSink(out, "the export is");
  for (const line of text) {
    sink.write(line);
    await sink.drained();
  }
  await sink.close();
  note(`The export is in ${out}`);
}

function* csvLines(results: readonly SessionResult[]): Generator<string> {
  yield csvHeading();
  for (const result of results) for (const row of readingRows(result)) yield csvLine(row);
}

async function fhirLines(results: readonly SessionResult[]): Promise<string[]> {
  const { fhirBundle } = await import("../../export/fhir-bundle.ts");
  return results.map((result) => `${JSON.stringify(fhirBundle(result, new Date().toISOString()), null, 2)}\n`);
}

/** Files of an earlier export would be read as a part of this one. */
async function emptyFolder(folder: string): Promise<void> {
  let found: string[];
  try {
    await mkdir(folder, { recursive: true });
    found = await readdir(folder);
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(folder, error));
  }
  if (found.length > 0) throw new CommandError(EXIT.usage, `--out ${folder}: the folder is not empty`);
}

async function parquet(results: readonly SessionResult[], folder: string): Promise<void> {
  const { parquetFiles } = await import("../../export/parquet.ts");
  let rows = 0;
  let files = 0;
  for (const [part, result] of results.entries()) {
    for (const file of parquetFiles(readingRows(result), part, result.provenance)) {
      const path = join(folder, file.path);
      try {
        await mkdir(dirname(path), { recursive: true });
        await writeFile(path, file.bytes);
      } catch (error) {
        throw new CommandError(EXIT.device, systemSentence(path, error));
      }
      rows += file.rows;
      files++;
    }
  }
  note(`${rows} readings in ${files} files under ${folder}, by day and tag; one table in DuckDB:`);
  note(`  select * from read_parquet('${folder}/*/*/*.parquet', hive_partitioning = true)`);
}
