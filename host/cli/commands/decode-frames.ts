/** `plyframe decode --frames`: every frame of a large capture, checked, counted and, if wanted, as a table. */
import { closeSync, openSync, readSync, statSync } from "node:fs";
import { layout } from "../../../protocol/index.ts";
import { Account } from "../../bulk/account.ts";
import type { ColumnBatch } from "../../bulk/batch.ts";
import { fileBatches } from "../../bulk/file-batches.ts";
import { makeEngine } from "../../bulk/make-engine.ts";
import { streamBatches } from "../../bulk/stream-batches.ts";
import { type FileKind, KIND_BYTES, kindOf, recognised } from "../../capture/file-kind.ts";
import { packingOf } from "../../capture/unpack.ts";
import type { FrameRows } from "../../export/frame-rows.ts";
import { checkFiles, type DecodeOptions, firstUnit } from "../decode-options.ts";
import { CommandError, EXIT } from "../exit.ts";
import { type FileSink, openSink } from "../file-sink.ts";
import { accountJson, accountLines } from "../frames-account.ts";
import type { FramesOut } from "../frames-out.ts";
import { goOnCommand } from "../go-on.ts";
import { outName } from "../out-name.ts";
import { Progress, progressScreen } from "../progress.ts";
import { isSourceTrouble, openSource, type Source, sourceSentence } from "../source.ts";
import { Stop } from "../stop.ts";
import { note, say, sayJson } from "../terminal.ts";

export async function decodeFrames(file: string, options: DecodeOptions): Promise<void> {
  const from = firstUnit(options.from);
  const name = options.out === undefined ? null : outName(options.out, ["jsonl", "csv", "parquet"]);
  checkFiles(file, { ...options, json: false });
  const account = new Account(layout);
  const { source, batches } = await openInput(file, account);
  let rejects: FileSink | null = null;
  let out: FramesOut | null = null;
  try {
    if (options.rejects !== undefined) rejects = await openSink(options.rejects, "the file of rejects is");
    if (name) out = await (await import("../frames-out.ts")).openFramesOut(name, options.overwrite === true);
    const startMs = performance.now();
    const end = await work(source, batches, account, from, rejects, out?.rows ?? null);
    await out?.rows.finish();
    await out?.file.commit();
    report(account, options, (performance.now() - startMs) / 1000);
    if (out) note(`${out.file.path} holds ${out.rows.rows} frames`);
    conclude(end, account, source, (at) => goOnCommand({ ...options, file, frames: true }, at));
  } catch (error) {
    await out?.file.discard();
    throw error;
  } finally {
    source.close();
    await rejects?.close();
  }
}

/** How the work ended. */
type End =
  | { readonly kind: "whole" }
  | { readonly kind: "stopped"; readonly before: number; readonly status: number }
  | { readonly kind: "trouble"; readonly says: string };

interface Input {
  readonly source: Omit<Source, "bytes">;
  readonly batches: AsyncIterable<ColumnBatch>;
}

/** A file that is text as it lies there is read by its path; anything else as a stream. */
async function openInput(file: string, account: Account): Promise<Input> {
  const size = plainTextSize(file);
  if (size !== null) {
    const source = { file, name: file, size, taken: () => 0, close: () => undefined };
    return { source, batches: fileBatches(file, layout, makeEngine(layout), account, { name: file, threads: 2 }) };
  }
  const source = await openSource(file);
  const { name } = source;
  try {
    const { kind, all } = await recognised(source.bytes).catch((error) => {
      throw new CommandError(EXIT.device, sourceSentence(name, error));
    });
    if (kind !== "text") throw notText(name, kind);
    return { source, batches: streamBatches(all, name, layout, makeEngine(layout), account) };
  } catch (error) {
    source.close();
    throw error;
  }
}

/** Bytes of a regular file that is text by its first ones; null for anything else, and for what only a stream can say is wrong. */
function plainTextSize(file: string): number | null {
  if (file === "-") return null;
  const first = Buffer.alloc(KIND_BYTES);
  try {
    const found = statSync(file);
    // A pipe would be gone by being looked at.
    if (!found.isFile()) return null;
    const opened = openSync(file, "r");
    const count = readSync(opened, first, 0, KIND_BYTES, 0);
    closeSync(opened);
    const bytes = first.subarray(0, count);
    return packingOf(bytes) === null && kindOf(bytes, count < KIND_BYTES) === "text" ? found.size : null;
  } catch {
    return null;
  }
}

const KINDS: { readonly [kind in FileKind]: string } = {
  text: "text",
  llrp: "LLRP messages",
  link: "link bytes",
  pcapng: "link messages in pcapng",
  packets: "packets",
};

function notText(name: string, kind: FileKind): CommandError {
  return new CommandError(
    EXIT.usage,
    `${name}: holds ${KINDS[kind]}; --frames reads JSON Lines and CSV, and decode without it reads the rest`,
  );
}

async function work(
  source: Input["source"],
  batches: AsyncIterable<ColumnBatch>,
  account: Account,
  from: number,
  rejects: FileSink | null,
  rows: FrameRows | null,
): Promise<End> {
  const iterator = batches[Symbol.asyncIterator]();
  const progress = new Progress(source.size, progressScreen(false));
  const stop = new Stop();
  let line = 1;
  try {
    for (;;) {
      const next = await stop.next(iterator).catch((error) => {
        if (!isSourceTrouble(error)) throw error;
        return sourceSentence(source.name, error);
      });
      if (typeof next === "string") return { kind: "trouble", says: next };
      if (next?.done) return { kind: "whole" };
      if (next === null || stop.signal !== null) {
        return { kind: "stopped", before: Math.max(from, line), status: stop.status };
      }
      const batch = next.value;
      line = batch.firstLine + batch.lines;
      for (const item of batch.items) {
        if ("notice" in item && item.place.line >= from) progress.note(`plyframe: ${item.notice.sentence}`);
      }
      if (rejects) {
        keepRejects(batch, from, rejects);
        await rejects.drained();
      }
      await rows?.add(batch, from);
      progress.bytes(source.size === null ? account.lines.bytes : Math.max(source.taken(), account.lines.bytes));
    }
  } finally {
    stop.release();
    progress.end();
    await iterator.return?.();
  }
}

/** Rejected lines in the order of the capture: those that could not be read, and reads that give nothing. */
function keepRejects(batch: ColumnBatch, from: number, rejects: FileSink): void {
  const { reads } = batch;
  let row = 0;
  const keepRows = (before: number) => {
    for (; row < batch.rows && batch.firstLine + reads.line[row]! < before; row++) {
      if (reads.rejected[row] !== 0 && batch.firstLine + reads.line[row]! >= from) {
        // The columns and the text behind them are used again.
        rejects.write(Uint8Array.from(batch.lineBytes(row)));
      }
    }
  };
  for (const item of batch.items) {
    const raw = "reject" in item ? item.reject.raw : "more" in item ? item.more : null;
    if (raw === null) continue;
    keepRows(item.place.line);
    if (item.place.line >= from) rejects.write(raw);
  }
  keepRows(Number.POSITIVE_INFINITY);
}

function report(account: Account, { json }: DecodeOptions, seconds: number): void {
  if (json) sayJson(accountJson(account));
  else for (const line of accountLines(account)) say(line);
  const { bytes, read } = account.lines;
  note(`${rate(bytes / 1e6, seconds)} MB/s, ${rate(read / 1e6, seconds)} million reads a second`);
}

function rate(count: number, seconds: number): string {
  return (count / seconds).toPrecision(3);
}

function conclude(end: End, account: Account, source: Input["source"], goOn: (from: number) => string): void {
  if (end.kind === "trouble") {
    note(`plyframe: ${end.says}`);
    process.exitCode = EXIT.device;
  } else if (end.kind === "stopped") {
    const again = source.file === null ? ", with the same input" : "";
    note(`Stopped before line ${end.before}; everything before it is done. To go on${again}:`);
    note(`  ${goOn(end.before)}`);
    process.exitCode = end.status;
  } else if (account.rejected > 0 || account.lines.noticed["file-empty"]) process.exitCode ??= EXIT.rejected;
}
