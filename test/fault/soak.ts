/** The long soak: `npm run soak [seconds [seed]]`, an hour of simulated time unless told otherwise. */
import { runBadLine } from "./bad-line.ts";

const [seconds = 3600, seed = 2] = process.argv.slice(2).map(Number);
const badness = { drop: 0.02, duplicate: 0.01, corrupt: 0.02, delay: 0.02, disconnect: 0.0005, reboot: 0.0003 };
const found = await runBadLine(seconds, seed, badness);
for (const [what, value] of Object.entries(found)) console.log(`${what}: ${Math.round(value)}`);
if (found.invented > 0) {
  console.log(`replay: npm run soak ${seconds} ${seed}`);
  process.exitCode = 1;
}
