/** The table of what every cut leaves behind, as the page that is checked in. */
import { explore, newTally, type Outcome, type Tally } from "./explore.ts";
import { type Race, raceOneCommit, raceTwoCommits } from "./race.ts";
import { matchingWorkloads, plainWorkloads, type Workload } from "./workloads.ts";
import { harmlessFirmware, wrongFirmware } from "./wrong-firmware.ts";
import { wrongUpdates } from "./wrong-updates.ts";

export const PATH = "protocol/firmware/POWER-CUTS.md";

const OUTCOMES: readonly Outcome[] = ["old kept", "new kept", "damage detected", "damage undetected"];

const OPERATIONS: Readonly<Record<string, string>> = {
  confirm: "What was found whole is written again",
  frame: "Frame",
  counters: "Counters",
  calibration: "Calibration copy (by a reader)",
  burst: "Burst",
};
const POINTS = [
  "word 0 again",
  "word 0 to zero",
  "words 2 to 6",
  "words 2 to 14",
  "words 2 to 30",
  "seal",
  "word 1",
  "word 0",
];

/** The page, from every single cut of every workload. */
export function powerCutPage(module: WebAssembly.Module): { readonly text: string; readonly tally: Tally } {
  const tally = newTally();
  const workloads = [...plainWorkloads, ...matchingWorkloads(module)];
  for (const workload of workloads) {
    explore(module, workload, { pair: null, enough: Number.POSITIVE_INFINITY }, tally);
  }
  return { text: pageOf(module, workloads, tally), tally };
}

function pageOf(module: WebAssembly.Module, workloads: readonly Workload[], tally: Tally): string {
  const rows = Object.keys(OPERATIONS).flatMap((operation) =>
    POINTS.flatMap((point) => {
      const counts = tally.outcomes.get(`${operation}|${point}`);
      return counts
        ? [`| ${OPERATIONS[operation]} | ${point} | ${OUTCOMES.map((outcome) => counts[outcome]).join(" | ")} |`]
        : [];
    }),
  );
  const total = OUTCOMES.map((outcome) =>
    [...tally.outcomes.values()].reduce((sum, counts) => sum + counts[outcome], 0),
  );
  return `# What a power cut leaves behind

Made by \`npm run power-cut -- --table\` from the firmware in WebAssembly: every single cut of every workload below, each
judged by the decoder of the specification, not by the firmware's own. Cuts in pairs, the second one anywhere in the start
after the first, are run by \`npm run power-cut\`, which prints how many states it covered; a share of them runs with the
tests.

## A cut, and what a reader gets after it

A cut is made before and after every word write and inside it: the first one to fifteen bits new, from either end; every
bit that changes left to read either way (marginal bits), with the next start reading it as old, as new and as half of
each; and, between two settles, every set of the words that the bridge may have written so far, with any one more of them
torn (of the long groups of burst and calibration: each alone, each missing, each torn, and the first one late).

- old kept: the record before is still there and nothing looks damaged.
- new kept: the record is whole.
- damage detected: the place that was being written is named as not whole; of frames, counters and calibration the reader
  gets the copy before from the other place, of a burst none.
- damage undetected: a mix, a record older than the one before, a lost calibration, a counter that jumps or a sequence that
  goes back.

| operation | cut in | ${OUTCOMES.join(" | ")} |
|---|---|${OUTCOMES.map(() => "--:").join("|")}|
${rows.join("\n")}
| all | | ${total.join(" | ")} |

${tally.cuts} cuts, ${tally.states} different states, ${tally.lives} starts of the firmware.

Taken for granted: a cell that a write leaves as it is keeps its value, even when the supply fails in that write. Where memory
is erased before it is written, a cut in "what was found whole is written again" can cost the newest frame; the reader then
gets the one before, and its memory of the last sequence marks it. Left open: once cold starts and frames are both at their
highest (frames: after 2^32 of them), two records of counters cannot be told apart by age, and the count of starts without a
frame may be read from the one before.

## Workloads

| workload | what is cut |
|---|---|
${workloads.map(({ name, about }) => `| ${name} | ${about} |`).join("\n")}

In the workloads named matching, old and new records are made for each other so that a mix of them carries a seal that
fits, as happens by chance once in 65536: there the order of writes stands alone.

## A reader that reads while the firmware writes

One Read of both slots takes its sixteen words in ascending order; each may fall between any two word writes of a commit.
The reader's choice is judged twice: with the seal as it is, and as if every mix had a seal that fits (except one that differs
from a whole frame in a single word, which a 16-bit checksum never misses).

| the Read meets | orders of the bridge | ways | newest frame, before or after | older frame | none | mix | mix if every seal fitted |
|---|--:|--:|--:|--:|--:|--:|--:|
${raceRow("a commit into slot A", raceOneCommit(module, "a"))}
${raceRow("a commit into slot B", raceOneCommit(module, "b"))}
${raceRow("a commit into slot A and the first write of the next", raceTwoCommits(module, "a", 1))}
${raceRow("a commit into slot B and the first write of the next", raceTwoCommits(module, "b", 1))}
${raceRow("two whole commits, A then B", raceTwoCommits(module, "a", 9))}
${raceRow("two whole commits, B then A", raceTwoCommits(module, "b", 9))}

Within one commit no mix is chosen, whatever the seal: word 1, the sequence, is written after the data, so a mix always
carries the older sequence and loses against the other slot. Over two commits in one Read it can win, once in 65536 of the
ways in the last column, and an older frame or none can come back: the sampling period has to be longer than a Read lasts.
A reader that remembers the last sequence of each tag marks both, for what it then gets lies behind. The counters in the
same Read have no second copy beside them: a mix of theirs is kept out by the seal alone, that is but for one in 65536 of the
Reads that meet their commit.

## Wrong on purpose

Each of these is compiled from the same source with one edit, and the suite must find it.

| edit | what it does | found by |
|---|---|---|
${wrongFirmware.map(({ name, about, shownBy }) => `| ${name} | ${about} | ${shownBy === "race" ? "a reader during a commit" : `${shownBy.workload}, ${shownBy.by} cuts`} |`).join("\n")}
${wrongUpdates.map(({ name, about, by }) => `| ${name} | ${about} | calibration, ${by} cuts |`).join("\n")}

Tried and found to do no harm:

| edit | what it does | why it does no harm |
|---|---|---|
${harmlessFirmware.map(({ name, about, why }) => `| ${name} | ${about} | ${why} |`).join("\n")}
`;
}

function raceRow(what: string, { orders, ways, sealed, withoutSeal }: Race): string {
  const newest = sealed["newest before"] + sealed["newest after"];
  return `| ${what} | ${orders} | ${ways} | ${newest} | ${sealed.older} | ${sealed.none} | ${sealed.mix} | ${withoutSeal.mix} |`;
}
