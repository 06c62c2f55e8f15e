/** Kits that are wrong on purpose: a copy of a right one with one edit, and what the replay kit says of it. */
import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { casesOfFile } from "../../host/replay/cases-of-file.ts";
import { failuresOf, fieldsConcerned } from "../../host/replay/outcome.ts";
import { runCases } from "../../host/replay/run.ts";
import { Session, VECTORS_PATIENCE } from "../../host/replay/session.ts";
import type { VectorSet } from "../../host/replay/vector-set.ts";
import type { Fault } from "./faults.ts";

const root = resolve(import.meta.dirname, "../..");

/** Enough for a busy machine: a right answer takes a thousandth of it. */
const TIMEOUT_MS = 60_000;

export interface Caught {
  readonly failures: number;
  /** Fields the report names, the most frequent first. */
  readonly fields: readonly string[];
}

/** Program and its words of a kit in a folder with its sources; compiles where that is needed. */
function commandOf(kit: Fault["kit"], folder: string): string[] {
  if (kit === "python") return ["python3", "-B", join(folder, "kit.py")];
  const program = join(folder, "kit");
  const sources = ["kit.c", "reading.c", "plyframe.c"].map((name) => join(folder, name));
  const words = ["-std=c99", "-O1", "-I", folder, "-I", join(root, "protocol/firmware"), "-o", program, ...sources];
  const { status, stderr } = spawnSync("cc", words, { encoding: "utf8" });
  if (status !== 0) throw new Error(`cc: ${stderr}`);
  return [program];
}

/** What a run says of a kit with this fault; of the right kit when there is none. */
export async function replayKit(kit: Fault["kit"], fault: Fault | null, vectors: VectorSet): Promise<Caught> {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-wrong-"));
  try {
    cpSync(join(root, "vectors/kits", kit), folder, { recursive: true });
    if (kit === "c") cpSync(join(root, "protocol/firmware/plyframe.c"), join(folder, "plyframe.c"));
    if (fault) plant(join(folder, fault.file), fault);
    return await run(commandOf(kit, folder), vectors);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Makes the edit; throws unless what is to be replaced stands in the file exactly once. */
function plant(file: string, { id, find, replace }: Fault): void {
  const parts = readFileSync(file, "utf8").split(find);
  if (parts.length !== 2) throw new Error(`${id}: "${find}" stands ${parts.length - 1} times in ${file}`);
  writeFileSync(file, parts.join(replace));
}

async function run(command: readonly string[], vectors: VectorSet): Promise<Caught> {
  const opened = await Session.open(command, TIMEOUT_MS, VECTORS_PATIENCE);
  if ("failure" in opened) throw new Error(opened.failure);
  const cases = vectors.files.flatMap(casesOfFile);
  const rest = { command, vectors, cases, others: new Set<string>(), listed: new Map<string, number>() };
  const result = await runCases(opened.session, rest, () => undefined);
  if (result.complaints.length > 0) throw new Error(result.complaints.map(({ says }) => says).join("; "));
  return { failures: failuresOf(result).length, fields: fieldsConcerned(result).map(({ field }) => field) };
}
