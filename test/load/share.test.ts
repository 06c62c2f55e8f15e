/** A share of the load run, bounded by counts of readings, and sessions that are not as they must be: each is seen. */
import { describe, expect, it } from "vitest";
import { needs } from "../support/outside.ts";
import { fullDisk, killed, noisy, replugged, type SceneOptions, steady } from "./scenes.ts";
import { faultsOf } from "./verdict.ts";

const options: SceneOptions = { tags: 64, speed: 1, seed: 5, piece: (reading) => reading.more(40) };

needs("socat", () => {
  needs("bash", () => {
    it.each([
      ["64 tags on a pseudo-terminal", steady],
      ["a cable pulled and plugged in again", replugged],
      ["a noisy line", noisy],
      ["a disk that fills", fullDisk],
      ["a program that is killed", killed],
    ])("%s: nothing wrong is kept, and what is lost is known", { timeout: 300_000 }, async (_, scene) => {
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
  torn: 0,
  status: 0,
  unreadable: 0,
} as const;

describe("a session", () => {
  it("as it must be has no fault", () => expect(faultsOf(good)).toEqual([]));

  it.each([
    ["nothing kept", { kept: 0 }],
    ["nothing shown", { shown: 0 }],
    ["a report that was never said", { wrong: 1 }],
    ["a reading shown and not kept", { lost: 1 }],
    ["two lost when killed", { scene: "killed", status: null, lost: 2 }],
    ["two lines cut off when killed", { scene: "killed", status: null, torn: 2, unreadable: 2 }],
    ["a line cut off in peace", { torn: 1, unreadable: 1 }],
    ["a full disk that goes unsaid", { scene: "disk full", lost: 7, status: 0 }],
    ["a disk that was never full", { scene: "disk full", status: 3 }],
    ["a report missed in peace", { missing: 1 }],
    ["a line cut off that decode does not tell", { scene: "killed", status: null, torn: 1 }],
    ["a status of trouble without trouble", { status: 3 }],
  ])("with %s has one", (_, change) => {
    expect(faultsOf({ ...good, ...change })).not.toEqual([]);
  });
});
