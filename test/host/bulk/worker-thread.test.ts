/** The second thread itself, compiled: it takes blocks, gives their batches and ends. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { expect, it, onTestFinished } from "vitest";

const room = pathToFileURL(resolve(import.meta.dirname, "../../../dist/host/bulk")).href;
const capture = resolve(import.meta.dirname, "../../../vectors/captures/training-leg.jsonl");

/** Lets the thread do every block of a file but the first, and prints what it says; batches go back so many at a time. */
const program = `
const { takeWorker } = await import("${room}/worker.js");
const { WorkerThread } = await import("${room}/worker-thread.js");
const [path, size, blockBytes, blocks, atOnce] = process.argv.slice(2);
const second = new WorkerThread(takeWorker(), { path, name: "leg", size: Number(size), blockBytes: Number(blockBytes) });
const kept = [];
const look = async () => {
  // Time for a thread that does not wait to spoil what it gave.
  await new Promise((resolve) => setTimeout(resolve, 100));
  for (const { notes, engine } of kept.splice(0)) {
    const { columns, input } = second.memory(engine);
    const { rows, ambientRows, lines, bytes, firstByte, textAt } = notes;
    const text = Buffer.from(input.slice(textAt, textAt + bytes)).toString("latin1");
    const times = Array.from(columns.reads.kitTimeUs.slice(0, rows));
    console.log(JSON.stringify({ kind: "batch", rows, ambientRows, lines, firstByte, times, text }));
    second.giveBack(engine);
  }
};
second.begin(1);
for (let done = 0; done < Number(blocks); ) {
  const message = await second.next();
  if (message.kind === "batch") kept.push(message);
  else done++;
  if (kept.length === Number(atOnce)) await look();
}
await look();
console.log(JSON.stringify({ kind: "end" }));
second.end();
`;

interface Said {
  readonly kind: string;
  readonly rows: number;
  readonly ambientRows: number;
  readonly lines: number;
  readonly firstByte: number;
  readonly times: readonly number[];
  readonly text: string;
}

/** What the thread says of a file. */
function saidOf(path: string, size: number, blockBytes: number, blocks: number, atOnce: number): Said[] {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-worker-thread-"));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  writeFileSync(join(folder, "program.mjs"), program);
  const words = [join(folder, "program.mjs"), path, ...[size, blockBytes, blocks, atOnce].map(String)];
  // The limit only ends a program that would never end by itself.
  const { status, stdout, stderr } = spawnSync(process.execPath, words, { encoding: "utf8", timeout: 100_000 });
  expect(stderr).toBe("");
  expect(status).toBe(0);
  const said = stdout.trim().split("\n");
  expect(said.pop()).toBe('{"kind":"end"}');
  return said.map((line) => JSON.parse(line) as Said);
}

/** What there is to say of whole lines that begin at a byte. */
function batchOf(text: string, firstByte: number): Said {
  const lines = text.split("\n").slice(0, -1);
  const records = lines.filter((line) => line.startsWith("{")).map((line) => JSON.parse(line));
  const times = records.filter(({ record }) => record === "read").map(({ kit_time_us }) => kit_time_us);
  const ambientRows = records.length - times.length;
  return { kind: "batch", rows: times.length, ambientRows, lines: lines.length, firstByte, times, text };
}

it("takes one block after the other, leaves each batch as it is until it is given back, and lets the program end", () => {
  const whole = readFileSync(capture, "latin1");
  // By the format of a capture: the blocks behind the first 4096 bytes, each with the lines that begin in its 5000 bytes.
  const starts = [0, ...Array.from(whole.matchAll(/\n/g), ({ index }) => index + 1)].slice(0, -1);
  const blocks = Math.ceil((whole.length - 4096) / 5000);
  const expected = Array.from({ length: blocks }, (_, block) => {
    const from = 4096 + block * 5000;
    const [first, next] = [from, from + 5000].map((place) => starts.find((start) => start >= place) ?? whole.length);
    return batchOf(whole.slice(first, next), first!);
  });
  const said = saidOf(capture, whole.length, 5000, blocks, 2);
  expect(said.length).toBeGreaterThan(8);
  expect(said).toEqual(expected);
});

it("goes on with a block only when its last batch was given back", () => {
  const [header, ...reads] = readFileSync(capture, "latin1")
    .split("\n")
    .filter((line) => !line.includes('"ambient"'));
  const folder = mkdtempSync(join(tmpdir(), "plyframe-worker-thread-"));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  const path = join(folder, "capture.jsonl");
  // A batch ends with its 2048th line that cannot be read: here behind 32 reads with 64 such lines each.
  const batch = (from: number) => reads.slice(from, from + 32).map((line) => `${line}\n${"x\n".repeat(64)}`);
  const first = `${header}\n`.padEnd(4096, "\n");
  const parts = [0, 32, 64, 96].map((from) => batch(from).join(""));
  const whole = first + parts.join("");
  writeFileSync(path, whole, "latin1");
  let at = first.length;
  const expected = parts.map((text) => {
    const said = batchOf(text, at);
    at += text.length;
    return said;
  });
  expect(saidOf(path, whole.length, whole.length, 1, 1)).toEqual(expected);
});
