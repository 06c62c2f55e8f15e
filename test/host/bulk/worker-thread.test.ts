/** The second thread itself, compiled: it takes stretches, gives their batches and ends. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { expect, it, onTestFinished } from "vitest";

const room = pathToFileURL(resolve(import.meta.dirname, "../../../dist/host/bulk")).href;
const capture = resolve(import.meta.dirname, "../../../vectors/captures/training-leg.jsonl");

/** Waits for the thread, gives it lines 2 to 3 and then the rest from line 4 on, and prints what it says of each. */
const program = `
const { WorkerThread } = await import("${room}/worker-thread.js");
const { readFileSync } = await import("node:fs");
const file = ${JSON.stringify(capture)};
const text = readFileSync(file, "latin1");
const ends = [...text.matchAll(/\\n/g)].map(({ index }) => index + 1);
const second = new WorkerThread(file, "leg");
while (!second.wantsMore) await new Promise((resolve) => setTimeout(resolve, 5));
second.give({ from: ends[0], to: ends[2] });
second.give({ from: ends[2], to: text.length });
console.log(JSON.stringify({ wantsMore: second.wantsMore }));
for (let open = 2; open > 0; ) {
  const message = await second.next();
  if (message.kind !== "batch") open--;
  const { rows, ambientRows, lines, firstByte } = message.notes ?? {};
  console.log(JSON.stringify({ kind: message.kind, rows, ambientRows, lines, firstByte }));
  if (message.memory) second.giveBack(message.memory);
}
console.log(JSON.stringify({ wantsMore: second.wantsMore }));
await second.end();
`;

it("takes two stretches, gives their batches in order, and lets the program end", () => {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-worker-thread-"));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  writeFileSync(join(folder, "program.mjs"), program);
  // The limit only ends a program that would never end by itself.
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(folder, "program.mjs")], {
    encoding: "utf8",
    timeout: 50_000,
  });
  expect(stderr).toBe("");
  expect(status).toBe(0);
  // By the file: its first line has 306 bytes, the next two are an ambient report (87) and a read (315); 233 lines, 7 ambient.
  expect(
    stdout
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line)),
  ).toEqual([
    { wantsMore: false },
    { kind: "batch", rows: 1, ambientRows: 1, lines: 2, firstByte: 306 },
    { kind: "done" },
    { kind: "batch", rows: 224, ambientRows: 6, lines: 230, firstByte: 306 + 87 + 315 },
    { kind: "done" },
    { wantsMore: true },
  ]);
});
