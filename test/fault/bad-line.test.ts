/** A few minutes of kit time on a bad line; an hour of it is a command of its own. */
import { describe, expect, it } from "vitest";
import { runBadLine } from "./bad-line.ts";
import { growthOf } from "./heap.ts";
import { BAD, faultsOf } from "./verdict.ts";

/** More of everything than in the hour, so that each kind of harm is done many times. */
const WORSE = { ...BAD, disconnect: 0.002, reboot: 0.0005 };

const GOOD = { drop: 0, duplicate: 0, corrupt: 0, delay: 0, disconnect: 0, reboot: 0 };

describe("a reader on a line", { timeout: 300_000 }, () => {
  it("that is good gives out every report and makes up none", async () => {
    const found = await runBadLine(20, 1, GOOD);
    expect(faultsOf(found)).toEqual([]);
    expect(found.reportsTaken).toBeGreaterThan(500);
    expect([found.ledger.kept, found.ledger.doubled, found.faults]).toEqual([found.ledger.frames, 0, 0]);
    // The copies of all four tags: a request that was never done with would hold up the others.
    expect(found.fetched).toBeGreaterThanOrEqual(4);
  });

  it("that leaves out, doubles, corrupts, delays, breaks and reboots accounts for every frame, and comes back", async () => {
    const found = await runBadLine(180, 2, WORSE);
    expect(faultsOf(found)).toEqual([]);
    const { ledger } = found;
    for (const cause of ["left out", "corrupted", "nobody connected"] as const) {
      expect([cause, ledger.lost[cause] > 20]).toEqual([cause, true]);
    }
    expect(ledger.doubled).toBeGreaterThan(20);
    expect(found.faults).toBeGreaterThan(50);
    expect([found.reconnections > 10, found.reboots > 3]).toEqual([true, true]);
    expect(ledger.kept).toBeGreaterThan(ledger.frames * 0.8);
  });

  it("keeps nothing of what is over", async () => {
    // In its first run code is still compiled, which takes memory too.
    await runBadLine(180, 2, WORSE);
    const { heap } = await runBadLine(180, 2, WORSE);
    expect(heap.length).toBeGreaterThan(6);
    const { megabytesPerHour, allowedPerHour } = growthOf(heap);
    expect(megabytesPerHour).toBeLessThan(allowedPerHour);
  });

  it("to a kit that is switched off and on is greeted anew each time", async () => {
    const found = await runBadLine(40, 2, { ...GOOD, reboot: 0.0015 });
    expect(faultsOf(found)).toEqual([]);
    expect(found.reboots).toBeGreaterThan(3);
    expect(found.reconnections).toBeGreaterThan(3);
  });

  it("that is cut every other moment loses what was on its way, and counts it", async () => {
    const found = await runBadLine(40, 3, { ...GOOD, delay: 0.05, disconnect: 0.01 });
    expect(faultsOf(found)).toEqual([]);
    expect(found.ledger.lost["cut off"]).toBeGreaterThan(5);
  });
});
