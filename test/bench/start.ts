/** How long `plyframe --version` takes beside an empty program of the same Node. Run: npm run bench:start. */
import { spawnSync } from "node:child_process";
import { resolve } from "node:path";

const RUNS = 20;
const PROGRAM = resolve(import.meta.dirname, "../../dist/command/main.js");

function timeMs(words: readonly string[]): number {
  const from = performance.now();
  const { status } = spawnSync(process.execPath, words, { stdio: "ignore" });
  if (status !== 0) throw new Error(`${words.join(" ")} ended with status ${status}`);
  return performance.now() - from;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1]! + sorted[sorted.length >> 1]!) / 2;
}

// In turn, so that whatever else the machine does falls on both.
const pairs = Array.from({ length: RUNS }, () => [timeMs([PROGRAM, "--version"]), timeMs(["-e", "0"])] as const);
const [ours, bare] = [median(pairs.map(([a]) => a)), median(pairs.map(([, b]) => b))];
console.log(`plyframe --version  ${ours.toFixed(0)} ms`);
console.log(`node -e 0           ${bare.toFixed(0)} ms`);
console.log(`difference          ${(ours - bare).toFixed(0)} ms (medians of ${RUNS} runs each)`);
