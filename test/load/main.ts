/** `npm run load -- --minutes 2 --tags 64 --seed 1`: every scene in turn, and its figures. Status 1 when one is not as it must be. */
import { performance } from "node:perf_hooks";
import { parseArgs } from "node:util";
import type { ReadRun } from "./programs.ts";
import { fullDisk, killed, noisy, replugged, type SceneOptions, steady } from "./scenes.ts";
import { faultsOf } from "./verdict.ts";

const { values } = parseArgs({
  options: {
    minutes: { type: "string", default: "2" },
    tags: { type: "string", default: "64" },
    seed: { type: "string", default: "1" },
  },
});
const [minutes, tags, seed] = [values.minutes, values.tags, values.seed].map(Number) as [number, number, number];
if (!(minutes > 0) || !(tags >= 1 && tags <= 64) || !Number.isInteger(seed)) {
  console.error("--minutes above 0, --tags 1 to 64, --seed a whole number");
  process.exit(2);
}

const SCENES = [steady, replugged, noisy, fullDisk, killed];
const pieceMs = (minutes * 60_000) / SCENES.length;
const piece = async (reading: ReadRun) => {
  const untilMs = performance.now() + pieceMs;
  while (performance.now() < untilMs) await reading.more(1);
};
const options: SceneOptions = { tags, speed: 1, seed, piece };

console.log(`${tags} tags on a pseudo-terminal, seed ${seed}; reports of tags:`);
console.log("scene                        said    shown     kept missing   lost  wrong   torn  read ends with");
for (const scene of SCENES) {
  const found = await scene(options);
  const cells = [found.said, found.shown, found.kept].map((count) => `${count}`.padStart(9)).join("");
  const more = [found.missing, found.lost, found.wrong, found.torn].map((count) => `${count}`.padStart(7)).join("");
  console.log(`${found.scene.padEnd(24)}${cells}${more}  ${found.status ?? "SIGKILL"}`);
  for (const fault of faultsOf(found)) {
    console.log(`  NOT AS IT MUST BE: ${fault}`);
    process.exitCode = 1;
  }
}
