/** Bursts of the duty cycle, judged by the TypeScript decoder. */
import { beforeAll, describe, expect, it } from "vitest";
import { flagsOf, rawOf } from "../../protocol/index.ts";
import { buildDutyCycle, lead, newestFrame, take, wordOf } from "./support/duty-cycle.ts";
import { needsAll } from "./support/needs-all.ts";
import { PRESSURE, power } from "./support/used-tag.ts";

const BURST_EVERY = 4;

describe("bursts on the host, gcc with sanitizers", () => {
  needsAll(["gcc"], () => {
    let folder = "";
    beforeAll(() => {
      folder = buildDutyCycle([`-DPLY_BURST_EVERY=${BURST_EVERY}`]);
    });
    const boards = (...lines: string[]) => lead(folder, lines);
    const status = (board: ReturnType<typeof boards>[number]) => flagsOf(newestFrame(board), "status");

    it("takes a burst at its interval, ties it to the frame before it and tells of it in the next", () => {
      const [before, after] = boards(
        ...power,
        "set pressure_rise 100",
        `frames ${BURST_EVERY}`,
        "show",
        "frames 1",
        "show",
      );
      const burst = take(after!, "burst");
      expect(rawOf(burst, "sequence")).toBe(rawOf(newestFrame(before!), "sequence"));
      expect([rawOf(burst, "count"), rawOf(burst, "interval")]).toEqual([25, 40]);
      expect(rawOf(burst, "pressure")).toBe(PRESSURE + BURST_EVERY * 100);
      /* 100/128 Pa a sample in steps of 0.5 Pa, half away from zero. */
      const samples = Array.from({ length: 25 }, (_, i) => Math.floor((i * 100) / 64 + 0.5));
      expect(samples.map((_, i) => rawOf(burst, `samples[${i}]`))).toEqual(samples);
      expect(status(after!)).toEqual(["burst_ready"]);
      /* 25 samples, the first and the frame after it each a period or an interval behind the one before. */
      expect(after!.nowMs - before!.nowMs).toBeGreaterThanOrEqual(25 * 40);
    });

    it("marks samples that a sensor did not give, and keeps falling ones within their range", () => {
      const broken = ["set sensor_reads 0", "steps 3", "set sensor_reads 1"];
      const [board] = boards(
        ...power,
        `frames ${BURST_EVERY}`,
        "steps 4",
        ...broken,
        `set pressure ${PRESSURE - 3_000_000}`,
        "frames 1",
        "show",
      );
      const burst = take(board!, "burst");
      const samples = [0, 1, 2].map((i) => rawOf(burst, `samples[${i}]`));
      expect(samples).toEqual([0, -32_768, -32_767]);
      expect(flagsOf(burst, "status")).toEqual(["sensor_fault"]);
      expect(status(board!)).toEqual(["burst_ready"]);
    });

    it("goes on with frames when a burst finds no first pressure", () => {
      const [before, after] = boards(
        ...power,
        `frames ${BURST_EVERY}`,
        "show",
        "set sensor_starts 0",
        "frames 2",
        "show",
      );
      expect(rawOf(newestFrame(after!), "sequence")).toBe(rawOf(newestFrame(before!), "sequence") + 2);
      expect(status(after!)).toEqual(["sensor_fault"]);
      expect(after!.hex.slice(4 * wordOf("burst"))).toMatch(/^0+$/);
    });
  });
});
