import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { shippedModule } from "../../sim/firmware/program.ts";
import { scramble } from "../../sim/random.ts";
import { needs } from "../support/outside.ts";
import { explore, newTally } from "./explore.ts";
import { raceOneCommit, raceTwoCommits } from "./race.ts";
import { replay } from "./replay.ts";
import { PATH, powerCutPage } from "./table.ts";
import { calibrationWorkload, matchingWorkloads, plainWorkloads } from "./workloads.ts";
import { buildWrong, harmlessFirmware, wrongFirmware } from "./wrong-firmware.ts";
import { wrongUpdates } from "./wrong-updates.ts";

const module = shippedModule();
const workloads = [...plainWorkloads, ...matchingWorkloads(module)];
const every = Number.POSITIVE_INFINITY;
/** One pair in this many; all of them are run by `npm run power-cut`. */
const SHARE = 150;
const SEED = 7;

function found(tally: ReturnType<typeof newTally>): string[] {
  return tally.findings.map(({ id, says }) => `${id}: ${says}`);
}

describe("a cut at every word write", () => {
  const page = powerCutPage(module);

  it(`leaves no damage undetected, in ${page.tally.cuts} cuts and ${page.tally.states} states`, () => {
    expect(found(page.tally)).toEqual([]);
    expect(page.tally.states).toBeGreaterThan(8000);
    for (const [row, counts] of page.tally.outcomes) expect([row, counts["damage undetected"]]).toEqual([row, 0]);
  });

  it("meets every kind of record in every one of its writes, and every outcome", () => {
    const outcomes = [...page.tally.outcomes.values()];
    expect(page.tally.outcomes.size).toBe(21);
    for (const outcome of ["old kept", "new kept", "damage detected"] as const) {
      expect(outcomes.some((counts) => counts[outcome] > 0)).toBe(true);
    }
  });

  it(`is what ${PATH} says`, () => {
    const kept = readFileSync(fileURLToPath(new URL(`../../${PATH}`, import.meta.url)), "utf8");
    expect(kept, `stale: run "npm run power-cut -- --table"`).toBe(page.text);
  });
});

describe("a second cut in the start after the first", () => {
  it.each(workloads.map((workload) => [workload.name, workload] as const))(
    `does no harm either, in a share of the pairs of %s`,
    (_, workload) => {
      const tally = newTally();
      explore(module, workload, { pair: (index) => scramble(index ^ SEED) % SHARE === 0, enough: every }, tally);
      expect(found(tally)).toEqual([]);
      expect(tally.states).toBeGreaterThan(300);
    },
  );
});

describe("a reader in the middle of a commit", () => {
  it.each(["a", "b"] as const)(
    "never gets a mix from slot %s, in any order of the bridge and whatever the seal",
    (slot) => {
      const race = raceOneCommit(module, slot);
      // Six data words in any order; 16 reads among 9 writes: 25! / (16! 9!) ways each.
      expect([race.orders, race.ways]).toEqual([720, 720 * 2_042_975]);
      for (const verdicts of [race.sealed, race.withoutSeal]) {
        expect(verdicts["newest before"]! + verdicts["newest after"]!).toBe(race.ways);
        expect(verdicts["newest after"]).toBeGreaterThan(0);
      }
    },
  );

  it("gets an older frame or none only when the Read lasts over a whole commit and into the next", () => {
    const race = raceTwoCommits(module, "a", 1);
    expect(race.ways).toBe(5_311_735);
    expect(race.sealed.mix).toBe(0);
    expect(race.sealed.older).toBeGreaterThan(0);
    expect(race.withoutSeal.mix).toBeGreaterThan(0);
    const other = raceTwoCommits(module, "b", 9);
    expect(other.withoutSeal["newest before"] + other.withoutSeal["newest after"]).toBe(other.ways);
  });
});

needs("clang-14", () => {
  describe("firmware that is wrong on purpose", () => {
    it.each(wrongFirmware.map((wrong) => [wrong.name, wrong] as const))("is found out: %s", (_, wrong) => {
      const built = buildWrong(wrong);
      if (wrong.shownBy === "race") {
        expect(raceOneCommit(built, "a").withoutSeal.mix).toBeGreaterThan(0);
        return;
      }
      const { workload, by } = wrong.shownBy;
      const tally = newTally();
      const pair = by === "pair" ? () => true : null;
      explore(built, workloads.find(({ name }) => name === workload)!, { pair, enough: 1 }, tally);
      expect(tally.findings.length).toBe(1);
      // The name of the finding brings it back.
      const lines = [...replay(built, workloads, tally.findings[0]!.id)];
      expect(lines).toContain(`WRONG: ${tally.findings[0]!.says}`);
    });

    it.each(harmlessFirmware.map((edit) => [edit.name, edit] as const))("or does no harm after all: %s", (_, edit) => {
      const built = buildWrong(edit);
      const tally = newTally();
      for (const workload of workloads) explore(built, workload, { pair: null, enough: every }, tally);
      expect(found(tally)).toEqual([]);
      expect(raceOneCommit(built, "a").withoutSeal.mix).toBe(0);
    });
  });
});

describe("a calibration block written in a wrong way", () => {
  it.each(wrongUpdates.map((wrong) => [wrong.name, wrong] as const))("is found out: %s", (_, { by, update }) => {
    const tally = newTally();
    const pair = by === "pair" ? (index: number) => index % 29 === 0 : null;
    explore(module, calibrationWorkload(update), { pair, enough: 1 }, tally);
    expect(tally.findings[0]?.id).toMatch(/^calibration\//);
  });
});
