/** A share of the load run, bounded by counts of readings, and sessions that are not as they must be: each is seen. */
import { describe, expect, it } from "vitest";
import { needs } from "../support/outside.ts";
import { compare } from "./account.ts";
import { fullDisk, KILLS, killed, noisy, replugged, type SceneOptions, steady } from "./scenes.ts";
import { faultsOf } from "./verdict.ts";

const options: SceneOptions = { seed: 5, piece: (reading) => reading.more(40) };

needs("socat", () => {
  needs("bash", () => {
    it.each([
      ["64 tags on a pseudo-terminal", steady],
      ["a cable pulled and plugged in again", replugged],
      ["a noisy line", noisy],
      ["a disk that fills", fullDisk],
      ["a program that is killed and started again", killed],
    ])("%s: nothing wrong is kept, and what is lost is known", { timeout: 600_000 }, async (_, scene) => {
      const found = await scene(options);
      expect(faultsOf(found), JSON.stringify(found)).toEqual([]);
    });
  });
});

const good = {
  scene: "steady",
  said: 100,
  shown: 95,
  kept: 95,
  lost: 0,
  wrong: 0,
  missing: 0,
  unread: 0,
  torn: 0,
  mended: 0,
  headers: 1,
  status: 0,
  kitStatus: null,
  unreadable: 0,
} as const;

const kill = { scene: "killed and resumed", headers: KILLS + 1 } as const;
const replug = { scene: "unplugged and plugged in", headers: 2, kitStatus: 3 } as const;

describe("a session", () => {
  it.each([
    ["in peace", {}],
    ["on a bad line", { scene: "noise", missing: 30 }],
    ["with a full disk", { scene: "disk full", status: 3, lost: 7, torn: 1, unreadable: 1 }],
    ["that was killed each time between showing and keeping", { ...kill, unread: 50, lost: KILLS, mended: KILLS }],
    ["plugged in again", { ...replug, unread: 50 }],
  ])("%s that is as it must be has no fault", (_, change) => {
    expect(faultsOf({ ...good, ...change })).toEqual([]);
  });

  it.each([
    ["nothing kept", { kept: 0 }],
    ["nothing shown", { shown: 0 }],
    ["a report that was never said", { wrong: 1 }],
    ["a reading shown and not kept", { lost: 1 }],
    ["two lost at a kill", { ...kill, lost: KILLS + 1 }],
    ["two lines cut off at a kill", { ...kill, mended: KILLS + 1 }],
    ["a line cut off that was not mended", { ...kill, torn: 1, unreadable: 1 }],
    ["a kill after which nothing was kept", { ...kill, headers: KILLS }],
    ["a report missed between kills", { ...kill, missing: 1 }],
    ["a line mended in peace", { mended: 1 }],
    ["a kit that does not miss its device", { ...replug, kitStatus: 0 }],
    ["a kit that ends in peace", { kitStatus: 3 }],
    ["a line cut off in peace", { torn: 1, unreadable: 1 }],
    ["a full disk that goes unsaid", { scene: "disk full", lost: 7, status: 0 }],
    ["a disk that was never full", { scene: "disk full", status: 3 }],
    ["a report missed in peace", { missing: 1 }],
    ["a line cut off that decode does not tell", { scene: "disk full", status: 3, lost: 7, torn: 1 }],
    ["a status of trouble without trouble", { status: 3 }],
  ])("with %s has one", (_, change) => {
    expect(faultsOf({ ...good, ...change })).not.toEqual([]);
  });
});

describe("what was kept, held against what was said", () => {
  it.each([
    ["all of it", [["a", "b", "c", "d"]], { wrong: 0, missing: 0, unread: 0 }],
    ["the tail not yet", [["a", "b"]], { wrong: 0, missing: 0, unread: 0 }],
    ["a gap", [["a", "d"]], { wrong: 0, missing: 2, unread: 0 }],
    ["a gap at the beginning", [["c"]], { wrong: 0, missing: 2, unread: 0 }],
    ["a gap between sessions", [["a"], ["d"]], { wrong: 0, missing: 0, unread: 2 }],
    ["a gap within the second session", [["a"], ["b", "d"]], { wrong: 0, missing: 1, unread: 0 }],
    ["a session of nothing", [["a"], [], ["c"]], { wrong: 0, missing: 0, unread: 1 }],
    ["one that was never said", [["a", "x", "b"]], { wrong: 1, missing: 0, unread: 0 }],
    [
      "one twice",
      [
        ["a", "b"],
        ["b", "c"],
      ],
      { wrong: 1, missing: 0, unread: 0 },
    ],
    ["one out of its order", [["b", "a"]], { wrong: 1, missing: 1, unread: 0 }],
  ])("%s", (_, sessions, found) => {
    expect(compare(sessions, ["a", "b", "c", "d"])).toEqual(found);
  });
});
