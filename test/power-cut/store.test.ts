import { describe, expect, it } from "vitest";
import { shippedModule } from "../../sim/firmware/program.ts";
import { type Finding, newTally } from "./explore.ts";
import { startOnStore } from "./store.ts";
import { plainWorkloads } from "./workloads.ts";

const CHARGE_UW = 300;
const cells = plainWorkloads.find(({ name }) => name === "frames")!.cells;

describe("a supply that fails where the energy ends", () => {
  const tally = newTally();
  const findings: Finding[] = [];
  const runs = Array.from({ length: 600 }, (_, i) => {
    const capacitanceUf = 2 + i / 4;
    return { capacitanceUf, progress: startOnStore(shippedModule(), cells, capacitanceUf, CHARGE_UW, tally, findings) };
  });
  const of = (kind: string) => runs.filter(({ progress }) => progress.kind === kind);

  it("leaves no damage undetected, wherever that is", () => {
    expect(findings).toEqual([]);
    expect(tally.cuts).toBeGreaterThan(1000);
  });

  it("is no progress when the store cannot hold a frame, and is not looped on for ever", () => {
    const stuck = of("no progress");
    expect(stuck.length).toBeGreaterThan(20);
    for (const { progress } of stuck) expect(progress.starts).toBe(12);
    // The tag itself says so where its counters could still be written.
    const told = stuck.flatMap(({ progress }) => (progress.kind === "no progress" ? [progress.fruitlessStarts] : []));
    expect(Math.max(...told)).toBe(12);
  });

  it("is got over by waiting for a fuller store where that is enough", () => {
    const starts = of("progress").map(({ progress }) => progress.starts);
    expect(starts).toContain(1);
    expect(Math.max(...starts)).toBeGreaterThanOrEqual(3);
  });

  it("is none at all with a store that is large enough", () => {
    for (const { progress } of runs.slice(-100)) expect(progress).toEqual({ kind: "progress", starts: 1 });
  });
});
