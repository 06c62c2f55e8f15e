/** A bounded soak; the long one is a command of its own. */
import { describe, expect, it } from "vitest";
import { runBadLine } from "./bad-line.ts";

const GOOD = { drop: 0, duplicate: 0, corrupt: 0, delay: 0, disconnect: 0, reboot: 0 };
const BAD = { drop: 0.02, duplicate: 0.01, corrupt: 0.02, delay: 0.02, disconnect: 0.0005, reboot: 0.0003 };

describe("a reader on a line", () => {
  it("that is good takes every report and makes up none", async () => {
    const { said, taken, invented, faults } = await runBadLine(20, 1, GOOD);
    expect(said).toBeGreaterThan(500);
    expect([taken, invented, faults]).toEqual([said, 0, 0]);
  });

  it("that drops, doubles, spoils, delays, breaks and reboots makes up none and comes back", async () => {
    const found = await runBadLine(120, 2, BAD);
    expect(found.invented).toBe(0);
    expect(found.faults).toBeGreaterThan(50);
    expect(found.reconnections).toBeGreaterThan(2);
    expect(found.taken).toBeGreaterThan(found.said * 0.5);
  });
});
