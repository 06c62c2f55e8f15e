/** Raw frames, one after the other in memory, to columns: the usual program, both engines, native C. */
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { type Engine, ROWS } from "../../../host/bulk/engine.ts";
import { PlainEngine } from "../../../host/bulk/plain-engine.ts";
import { wasmEngine } from "../../../host/bulk/wasm-engine.ts";
import { encode, layout, recordOf } from "../../../protocol/index.ts";
import { decodeNaively } from "../naive.ts";
import { table } from "./table.ts";

const FRAMES = 1_000_000;
const ROUNDS = 7;
const SIZE = 16;

/** One in 64 is damaged. */
function makeFrames(): Uint8Array {
  const frame = recordOf(layout, "frame");
  const all = new Uint8Array(FRAMES * SIZE);
  for (let i = 0; i < FRAMES; i++) {
    const bytes = encode(frame, {
      status: i % 97 === 0 ? 1 : 0,
      sequence: i & 0xffff,
      pressure: 12_969_600 + ((i * 7919) % 1_000_000),
      temperature: 3000 + (i % 700),
      supply: 1800 + (i % 400),
      uptime: i,
    }) as Uint8Array;
    if (i % 64 === 63) bytes[6]! ^= 0x10;
    all.set(bytes, i * SIZE);
  }
  return all;
}

interface Sum {
  readonly good: number;
  readonly pressure: number;
}

/** binary-parser and crc, a frame at a time, into columns. */
function naively(all: Uint8Array, columns: Record<string, Int32Array>): Sum {
  let [good, pressure] = [0, 0];
  for (let i = 0, at = 0; at < all.length; i++, at += SIZE) {
    const frame = decodeNaively(all.subarray(at, at + SIZE));
    if (!frame) continue;
    const row = i % ROWS;
    columns.status![row] = frame.status;
    columns.sequence![row] = frame.sequence;
    columns.pressure![row] = frame.pressure;
    columns.temperature![row] = frame.temperature;
    columns.supply![row] = frame.supply;
    columns.uptime![row] = frame.uptime;
    good++;
    pressure += frame.pressure;
  }
  return { good, pressure };
}

/** Copying in is part of it. */
function byEngine(engine: Engine, all: Uint8Array): Sum {
  const verdicts = engine.columns.verdicts.slot_a!;
  const pressures = engine.columns.fields.pressure!;
  let [good, pressure] = [0, 0];
  for (let at = 0; at < all.length; at += ROWS * SIZE) {
    const part = all.subarray(at, at + ROWS * SIZE);
    engine.input.set(part);
    const count = part.length / SIZE;
    engine.takeFrames(count);
    for (let row = 0; row < count; row++) {
      if (verdicts[row] !== 0) continue;
      good++;
      pressure += pressures[row]!;
    }
  }
  return { good, pressure };
}

/** The table, as text. */
export function frameRates(folder: string, rival: string): string {
  const all = makeFrames();
  const columns = Object.fromEntries(
    ["status", "sequence", "pressure", "temperature", "supply", "uptime"].map((id) => [id, new Int32Array(ROWS)]),
  );
  const plain = new PlainEngine(layout);
  const wasm = wasmEngine(layout)!;
  const ways = [
    { name: "binary-parser + crc, a frame at a time", run: () => naively(all, columns) },
    { name: "plain TypeScript", run: () => byEngine(plain, all) },
    { name: "WebAssembly, copying in included", run: () => byEngine(wasm, all) },
  ];
  const best = ways.map(() => Number.POSITIVE_INFINITY);
  const sums: Sum[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    ways.forEach(({ run }, i) => {
      const from = performance.now();
      sums[i] = run();
      best[i] = Math.min(best[i]!, (performance.now() - from) / 1000);
    });
  }
  const file = join(folder, "frames.bin");
  writeFileSync(file, all);
  const { stdout } = spawnSync(rival, ["--frames", file], { encoding: "utf8" });
  const native = JSON.parse(stdout) as { good: number; seconds: number };
  if (new Set([...sums.map((sum) => sum.good), native.good]).size > 1)
    throw new Error("the ways do not agree on frames");
  if (new Set(sums.map((sum) => sum.pressure)).size > 1) throw new Error("the ways do not agree on pressures");
  const names = [...ways.map(({ name }) => name), "C, gcc -O2, copying in included"];
  const seconds = [...best, native.seconds];
  const rows = names.map((name, i) => [
    name,
    (FRAMES / 1e6 / seconds[i]!).toFixed(2),
    (seconds[0]! / seconds[i]!).toFixed(1),
    (seconds[i]! / native.seconds).toFixed(2),
  ]);
  const ratio = seconds[0]! / Math.min(seconds[1]!, seconds[2]!);
  const verdict = ratio >= 30 ? "reached" : "MISSED";
  const head = ["raw frames", "million frames/s", "times binary-parser + crc", "of C's time"];
  return `${FRAMES} frames of ${SIZE} bytes in memory, ${FRAMES - sums[0]!.good} damaged; best of ${ROUNDS} rounds.\n\n${table(head, rows)}\n\n- ${ratio.toFixed(1)} times binary-parser + crc, goal at least 30: ${verdict}`;
}
