/** `npm run firmware-fuzz -- --seconds 30`: libFuzzer over the firmware for so long. */
import { parseArgs } from "node:util";
import { buildFuzzer, executions, fuzz } from "./support/fuzzer.ts";

const { values } = parseArgs({ options: { seconds: { type: "string", default: "30" } } });
const seconds = Number(values.seconds);
if (!Number.isInteger(seconds) || seconds < 1) {
  console.error("--seconds wants a whole number from 1 on");
  process.exit(2);
}
const seed = Date.now() % 2 ** 31;
const outcome = fuzz(buildFuzzer(), `-max_total_time=${seconds}`, seed);
if (outcome.status !== 0) console.error(outcome.stderr);
console.log(
  `${executions(outcome)} inputs in ${seconds} s, seed ${seed}: ${outcome.status === 0 ? "nothing found" : "FOUND"}`,
);
process.exitCode = outcome.status === 0 ? 0 : 1;
