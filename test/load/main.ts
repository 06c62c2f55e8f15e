/** `npm run load -- --minutes 2 --seed 1`: every scene in turn, and its figures. Status 1 when one is not as it must be. */
import { performance } from "node:perf_hooks";
import { parseArgs } from "node:util";
import type { ReadRun } from "./programs.ts";
import { fullDisk, KILLS, killed, noisy, replugged, type SceneOptions, steady } from "./scenes.ts";
import { faultsOf } from "./verdict.ts";

const { values } = parseArgs({
  options: {
    minutes: { type: "string", default: "2" },
    seed: { type: "string", default: "1" },
  },
});
const [minutes, seed] = [values.minutes, values.seed].map(Number) as [number, number];
if (!(minutes > 0) || !Number.isInteger(seed)) {
  console.error("--minutes above 0, --seed a whole number");
  process.exit(2);
}

/** Each scene with the number of its pieces. */
const SCENES = [
  [steady, 1],
  [replugged, 2],
  [noisy, 1],
  [fullDisk, 1],
  [killed, KILLS + 1],
] as const;

const optionsOf = (pieces: number): SceneOptions => ({
  seed,
  piece: async (reading: ReadRun) => {
    const untilMs = performance.now() + (minutes * 60_000) / SCENES.length / pieces;
    while (performance.now() < untilMs) await reading.more(1);
  },
});

console.log(`64 tags on a pseudo-terminal, seed ${seed}; reports of tags:`);
console.log(
  "scene                        said    shown     kept missing unread   lost  wrong   torn mended  read, kit end with",
);
for (const [scene, pieces] of SCENES) {
  const found = await scene(optionsOf(pieces));
  const cells = [found.said, found.shown, found.kept].map((count) => `${count}`.padStart(9)).join("");
  const { missing, unread, lost, wrong, torn, mended } = found;
  const more = [missing, unread, lost, wrong, torn, mended].map((count) => `${count}`.padStart(7)).join("");
  const ends = `${found.status}, ${found.kitStatus ?? "-"}`;
  console.log(`${found.scene.padEnd(24)}${cells}${more}  ${ends}`);
  for (const fault of faultsOf(found)) {
    console.log(`  NOT AS IT MUST BE: ${fault}`);
    process.exitCode = 1;
  }
}
