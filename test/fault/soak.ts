/** The long soak: `npm run soak -- [SECONDS [SEED]]`, an hour of kit time unless told otherwise. */
import { runBadLine } from "./bad-line.ts";
import { growthOf } from "./heap.ts";
import { CAUSES } from "./marked-frames.ts";
import { BAD, faultsOf } from "./verdict.ts";

const given = process.argv.slice(2);
const [seconds = 3600, seed = 2] = given.map(Number);
if (given.length > 2 || !(seconds >= 60 && seconds <= 1e6) || !Number.isSafeInteger(seed)) {
  console.error("usage: npm run soak -- [SECONDS [SEED]], at least 60 seconds of kit time and a whole number as seed");
  process.exit(2);
}
const found = await runBadLine(seconds, seed, BAD);
const { ledger, heap } = found;
const say = (what: string, value: number | string) => console.log(`${what.padEnd(34)}${value}`);
console.log(`${seconds} s of kit time, seed ${seed}: ${found.reconnections} times connected, ${found.reboots} reboots`);
say("frames said", ledger.frames);
say("  kept", ledger.kept);
for (const cause of CAUSES) say(`  lost: ${cause}`, ledger.lost[cause]);
say("  lost without a cause", ledger.unexplained);
say("frames that came twice", ledger.doubled);
say("reports due", found.reportsDue);
say("reports given out", found.reportsTaken);
say("  invented or of another tag", found.wrongReports);
say("calibrations fetched", found.fetched);
say("  of another tag", found.wrongFetched);
say("readings", found.readings);
say("  with another tag's sensor", found.wrongReadings);
say("bytes spoilt", found.bytesSpoilt);
say("bytes counted as discarded", found.bytesDiscarded);
say("damaged stretches", found.faults);
say("heap after garbage collection, MB", heap.map(({ megabytes }) => megabytes.toFixed(1)).join(" "));
const { megabytesPerHour, allowedPerHour } = growthOf(heap);
say("  growth, MB an hour", `${megabytesPerHour.toFixed(2)} (flat: up to ${allowedPerHour.toFixed(2)})`);
const faults = faultsOf(found);
if (megabytesPerHour > allowedPerHour) faults.push("the memory grows");
for (const fault of faults) console.log(`WRONG: ${fault}`);
if (faults.length > 0) {
  console.log(`replay: npm run soak -- ${seconds} ${seed}`);
  process.exitCode = 1;
}
