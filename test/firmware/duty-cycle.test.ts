/** What the duty cycle does when sensor, supply, bridge and sleep do not do what they should. Records are judged by the TypeScript decoder. */
import { beforeAll, describe, expect, it } from "vitest";
import { checksumOf, flagsOf, rawOf } from "../../protocol/index.ts";
import { buildDutyCycle, lead, newestFrame, put, take, wordOf } from "./support/duty-cycle.ts";
import { needsAll } from "./support/needs-all.ts";
import { calibration, counters, header, PRESSURE, power } from "./support/used-tag.ts";

/** The same header as a later layout might write it, with a whole seal. */
function otherLayout(line: string): string {
  const words = line.split(" ").slice(2, 9);
  words[0] = "0012";
  const bytes = words.flatMap((word) => [Number.parseInt(word.slice(0, 2), 16), Number.parseInt(word.slice(2), 16)]);
  const seal = checksumOf("seal", bytes, 0, bytes.length).toString(16).padStart(4, "0");
  return `word ${wordOf("header")} ${words.join(" ")} ${seal}`;
}

describe("duty cycle on the host, gcc with sanitizers", () => {
  needsAll(["gcc"], () => {
    let folder = "";
    beforeAll(() => {
      folder = buildDutyCycle();
    });
    const boards = (...lines: string[]) => lead(folder, lines);
    const status = (board: ReturnType<typeof boards>[number]) => flagsOf(newestFrame(board), "status");

    it("goes on from the newest slot, with the time since this cold start", () => {
      const [first, second] = boards(...power, "frames 1", "show", "frames 1", "show");
      expect(rawOf(newestFrame(first!), "sequence")).toBe(4712);
      expect(rawOf(newestFrame(first!), "uptime")).toBe(0);
      expect(status(first!)).toEqual(["first_after_cold_start"]);
      expect(rawOf(newestFrame(first!), "pressure")).toBe(PRESSURE);
      expect(rawOf(newestFrame(first!), "temperature")).toBe(3142);
      expect(rawOf(newestFrame(first!), "supply")).toBe(2147);
      expect(status(second!)).toEqual([]);
      expect(rawOf(newestFrame(second!), "sequence")).toBe(4713);
      expect(rawOf(newestFrame(second!), "uptime")).toBe(1);
    });

    it("counts the start before the first frame and takes it back as fruitless after it", () => {
      const [before, after] = boards(...power, "steps 3", "show", "frames 1", "steps 1", "show");
      const copy = take(before!, "counters_b");
      expect([rawOf(copy, "cold_starts"), rawOf(copy, "fruitless_starts")]).toEqual([813, 1]);
      const later = take(after!, "counters_a");
      expect([rawOf(later, "fruitless_starts"), rawOf(later, "frames")]).toEqual([0, 70_001]);
    });

    it("does not wait a sampling period for the first frame", () => {
      const [board] = boards(header(60_000), ...power.slice(1), "frames 1", "show");
      expect(rawOf(newestFrame(board!), "sequence")).toBe(4712);
      expect(board!.nowMs - 5000).toBeLessThan(100);
    });

    it("keeps to the header's period, and to 100 ms without a whole one", () => {
      const passed = (line: string) => {
        const [a, b] = boards(...power.slice(1, -1), line, "start", "frames 2", "show", "frames 1", "show");
        return b!.nowMs - a!.nowMs;
      };
      expect(passed(header(250))).toBe(250);
      expect(passed("word 4 0014")).toBe(100);
      expect(passed(otherLayout(header(250)))).toBe(100);
    });

    it("asks a bridge that does not read again, and starts from nothing that it guessed", () => {
      const [waiting, after] = boards(
        ...power,
        "set bridge_reads 0",
        "steps 20",
        "show",
        "set bridge_reads 1",
        "frames 1",
        "steps 1",
        "show",
      );
      expect(waiting!.phase).toBe("cold_start");
      expect(waiting!.hex).toBe(boards(...power, "show")[0]!.hex);
      expect(rawOf(newestFrame(after!), "sequence")).toBe(4712);
      expect(status(after!)).toEqual(["first_after_cold_start", "sample_lost"]);
      expect(rawOf(take(after!, "counters_a"), "cold_starts")).toBe(813);
    });

    it.each([0, 1, 4, 7, 8])(
      "a bridge that refuses after %i words leaves the older frame and takes the sequence again",
      (words) => {
        const [before, cut, after] = boards(
          ...power,
          "frames 2",
          "show",
          `set writes_left ${words}`,
          "steps 5",
          "show",
          "set writes_left 255",
          "frames 1",
          "show",
        );
        const kept = newestFrame(before!);
        expect(rawOf(newestFrame(cut!), "sequence")).toBe(rawOf(kept, "sequence"));
        expect(rawOf(newestFrame(after!), "sequence")).toBe(rawOf(kept, "sequence") + 1);
        expect(status(after!)).toEqual(["sample_lost"]);
      },
    );

    it.each(["sensor_starts", "sensor_reads"])(
      "says a sensor fault when %s fails, and forgets it with the next sample",
      (name) => {
        const [bad, good] = boards(
          ...power,
          "frames 1",
          `set ${name} 0`,
          "frames 1",
          "show",
          `set ${name} 1`,
          "frames 1",
          "show",
        );
        expect(status(bad!)).toEqual(["sensor_fault"]);
        expect(rawOf(newestFrame(bad!), "pressure")).toBe(16_777_215);
        expect(rawOf(newestFrame(bad!), "temperature")).toBe(-32_768);
        expect(status(good!)).toEqual([]);
        expect(rawOf(newestFrame(good!), "pressure")).toBe(PRESSURE);
      },
    );

    it("gives a sample up when the sensor is not ready in twice its time", () => {
      const [before, waiting, after] = boards(
        ...power,
        "frames 1",
        "show",
        "set sensor_ready 0",
        "steps 40",
        "show",
        "set sensor_ready 1",
        "frames 1",
        "show",
      );
      expect(rawOf(newestFrame(waiting!), "sequence")).toBe(rawOf(newestFrame(before!), "sequence"));
      expect(rawOf(newestFrame(after!), "sequence")).toBe(rawOf(newestFrame(before!), "sequence") + 1);
      expect(status(after!)).toEqual(["sample_lost"]);
    });

    it.each([
      [3_327_999, 3_328_000, true],
      [3_328_000, 3_328_000, true],
      [3_328_001, 3_328_001, false],
      [16_127_999, 16_127_999, false],
      [16_128_000, 16_128_000, true],
      [4_294_967_295, 16_128_000, true],
    ])("a pressure of %i is kept as %i, at the limit: %s", (given, kept, atLimit) => {
      const [board] = boards(...power, `set pressure ${given}`, "frames 1", "show");
      expect(rawOf(newestFrame(board!), "pressure")).toBe(kept);
      expect(status(board!).includes("pressure_at_limit")).toBe(atLimit);
    });

    it.each([
      [-32_768, -4000],
      [-4001, -4000],
      [12_501, 12_500],
    ])("a temperature of %i is kept as %i", (given, kept) => {
      const [board] = boards(...power, `set temperature ${given & 0xffff}`, "frames 1", "show");
      expect(rawOf(newestFrame(board!), "temperature")).toBe(kept);
    });

    it("flags missing calibration, and no longer once a reader wrote a block", () => {
      const gone = [40, 56].map((word) => `word ${word} 0000`);
      const [missing, written] = boards(
        ...power,
        ...gone,
        "frames 1",
        "show",
        put("calibration_2", calibration),
        "frames 18",
        "show",
      );
      expect(status(missing!)).toEqual(["first_after_cold_start", "calibration_missing"]);
      expect(status(written!)).toEqual([]);
      const newest = ["counters_a", "counters_b"]
        .map((region) => take(written!, region))
        .sort((a, b) => rawOf(b, "frames") - rawOf(a, "frames"));
      expect(rawOf(newest[0]!, "reuse_cycles")).toBe(7);
    });

    it("gives the sample up when the supply fell during it, and counts one brown-out", () => {
      /* Frame, counters, check, start, read: then the supply falls before the seal. */
      const [cut, after] = boards(
        ...power,
        "frames 2",
        "steps 3",
        "set supply_mv 1799",
        "steps 1",
        "show",
        "set supply_mv 2147",
        "frames 1",
        "steps 1",
        "show",
      );
      expect(rawOf(newestFrame(cut!), "sequence")).toBe(4713);
      expect(rawOf(newestFrame(after!), "sequence")).toBe(4714);
      expect(status(after!)).toEqual(["brown_out"]);
      expect(rawOf(take(after!, "counters_b"), "brown_outs")).toBe(42);
    });

    it("counts a fall between two samples once, however long it lasts", () => {
      const [after] = boards(
        ...power,
        "frames 2",
        "steps 1",
        "set supply_mv 1200",
        "steps 30",
        "set supply_mv 2147",
        "frames 1",
        "steps 1",
        "show",
      );
      expect(status(after!)).toEqual(["brown_out"]);
      expect(rawOf(take(after!, "counters_b"), "brown_outs")).toBe(42);
    });

    it("flags a supply between the two thresholds", () => {
      const [board] = boards(...power, "frames 2", "steps 3", "set supply_mv 1999", "steps 2", "show");
      expect(status(board!)).toEqual(["supply_low"]);
      expect(rawOf(newestFrame(board!), "supply")).toBe(1999);
    });

    it("keeps a supply beyond the field's range as its highest value", () => {
      const [board] = boards(...power, "set supply_mv 5000", "frames 1", "show");
      expect(rawOf(newestFrame(board!), "supply")).toBe(4094);
    });

    it("waits for a fuller store after fruitless starts", () => {
      const fruitless = put("counters_a", { ...counters, fruitless_starts: 3 });
      const at = (mv: number) =>
        boards(...power.slice(0, -1), fruitless, "start", `set supply_mv ${mv}`, "steps 400", "show")[0]!;
      expect(rawOf(newestFrame(at(2299)), "sequence")).toBe(4711);
      expect(rawOf(newestFrame(at(2300)), "sequence")).toBeGreaterThan(4711);
    });

    it("sleeps on when a sleep ends early", () => {
      const times = (short: number) => {
        const [a, b] = boards(
          ...power,
          "frames 1",
          `set sleeps_short ${short}`,
          "frames 1",
          "show",
          "frames 1",
          "show",
        );
        return b!.nowMs - a!.nowMs;
      };
      expect(times(0)).toBe(100);
      expect(times(1)).toBe(100);
    });

    it("stops the uptime at its highest value", () => {
      const [board] = boards(...power, "frames 1", `set now_ms ${5000 + 104_857_600}`, "frames 1", "show");
      expect(rawOf(newestFrame(board!), "uptime")).toBe(1_048_575);
    });
  });
});
