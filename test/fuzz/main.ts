/**
 * `npm run fuzz -- --seconds 60 --seed 1 [--parser NAME]`: every parser for an equal share of the time. A finding is made
 * small and printed, with the file to keep it in; status 1.
 */
import { performance } from "node:perf_hooks";
import { parseArgs } from "node:util";
import { Worker } from "node:worker_threads";
import { fuzz } from "./fuzz-run.ts";
import { parsers } from "./parsers.ts";

/** No input of 6 kB takes a parser so long, on however busy a machine: it hangs. */
const HANGS_MS = 60_000;

const { values } = parseArgs({
  options: {
    seconds: { type: "string", default: "60" },
    seed: { type: "string", default: "1" },
    parser: { type: "string" },
  },
});
const seconds = Number(values.seconds);
const seed = Number(values.seed);
const chosen = parsers.filter(({ name }) => values.parser === undefined || name === values.parser);
if (!(seconds > 0) || !Number.isInteger(seed) || chosen.length === 0) {
  console.error(
    `--seconds above 0, --seed a whole number, --parser one of ${parsers.map(({ name }) => name).join(", ")}`,
  );
  process.exit(2);
}

/** A number that changes with every input and the input itself, seen from the thread that watches. */
const beat = new Int32Array(new SharedArrayBuffer(8));
const shown = new Uint8Array(new SharedArrayBuffer(6000));
const watch = `
  const { workerData } = require("node:worker_threads");
  const { beat, shown, limit } = workerData;
  let last = -1;
  let since = Date.now();
  setInterval(() => {
    if (beat[0] !== last) { last = beat[0]; since = Date.now(); }
    if (Date.now() - since < limit) return;
    require("node:fs").writeSync(2, "a parser hangs on " + Buffer.from(shown.slice(0, beat[1])).toString("hex") + "\\n");
    process.kill(process.pid, "SIGKILL");
  }, 1000);`;
new Worker(watch, { eval: true, workerData: { beat, shown, limit: HANGS_MS } }).unref();

const before = (input: Uint8Array) => {
  shown.set(input.subarray(0, shown.length));
  beat[1] = Math.min(input.length, shown.length);
  beat[0]++;
};

for (const parser of chosen) {
  const untilMs = performance.now() + (1000 * seconds) / chosen.length;
  const { inputs, bytes, found } = await fuzz(parser, { seed, goesOn: () => performance.now() < untilMs, before });
  console.log(
    `${parser.name.padEnd(13)} ${`${inputs}`.padStart(7)} inputs ${`${bytes}`.padStart(10)} bytes  ${found ? "FOUND" : "nothing found"}`,
  );
  if (!found) continue;
  process.exitCode = 1;
  console.log(`  input ${found.number} of seed ${seed} breaks "${found.promise}": ${found.says}`);
  console.log(`  ${found.input.length} bytes, to be kept in test/fuzz/corpus/${parser.name}/, by`);
  console.log(`  printf %s ${Buffer.from(found.input).toString("hex")} | xxd -r -p`);
}
