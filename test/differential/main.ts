/**
 * `npm run differential [-- FRAMES]`: a million frames from a seed (valid, damaged, hostile) through every decoder there is.
 * Prints what they disagree on, which must be nothing, and the time of each; status 1 when they do not agree.
 */
import { formatHex, reasonByNumber } from "../../protocol/index.ts";
import { Random } from "../../sim/random.ts";
import { table } from "../bench/bulk/table.ts";
import { makeFrames, SIZE } from "./made-frames.ts";
import { type Answers, disagreements, kaitaiWay, nativeWay, ownWays, reasonCounts } from "./ways.ts";

const SEED = 4711;
const frames = Number(process.argv[2] ?? 1_000_000);
const all = makeFrames(frames, new Random(SEED, "differential"));

let first: Answers | null = null;
let total = 0;
const rows: string[][] = [];
for (const way of [...ownWays(), nativeWay(), await kaitaiWay()]) {
  const from = performance.now();
  const answers = way.answer(all);
  const seconds = (performance.now() - from) / 1000;
  first ??= answers;
  const found = disagreements(first, answers);
  total += found.length;
  rows.push([way.name, `${found.length}`, seconds.toFixed(2)]);
  for (const frame of found.slice(0, 5)) {
    console.log(`${way.name}: frame ${frame}, ${formatHex(all, frame * SIZE, (frame + 1) * SIZE)}`);
  }
}
console.log(`${frames} frames, seed ${SEED}: what the plain decoder says of them`);
for (const [reason, count] of [...reasonCounts(first!)].sort(([a], [b]) => a - b)) {
  console.log(`  ${reason === 0 ? "good" : reasonByNumber(reason)}: ${count}`);
}
console.log(`\n${table(["decoder", "disagreements", "s"], rows)}\n\n${total} disagreements.`);
if (total > 0) process.exitCode = 1;
