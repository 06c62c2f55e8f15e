/** libFuzzer with sanitizers over the firmware: a bounded run finds nothing, and finds what was planted. */
import { describe, expect, it } from "vitest";
import { changedSource } from "./support/changed-source.ts";
import { buildFuzzer, executions, fuzz } from "./support/fuzzer.ts";
import { needsAll } from "./support/needs-all.ts";

const RUNS = 100_000;
const LIMIT_MS = 300_000;
const BOUND = `-runs=${RUNS}`;

/** Faults of the kinds a C decoder has, and what of them is seen. */
const planted = [
  [
    "a loop one step too long",
    "for (uint8_t i = 0; i < length; i++)",
    "for (uint8_t i = 0; i <= length; i++)",
    "heap-buffer-overflow",
  ],
  ["a record that may be short", "if (count < length) {", "if (count + 1u < length) {", "heap-buffer-overflow"],
  [
    "a range not looked at",
    "if ((pressure < PLY_FRAME_PRESSURE_MIN ||",
    "if ((pressure == 1u ||",
    "promise 3 is broken",
  ],
  [
    "a field cut short",
    "frame->uptime = supply_uptime & PLY_FRAME_UPTIME_MASK;",
    "frame->uptime = supply_uptime & 0x7FFFFUL;",
    "promise 4 is broken",
  ],
  [
    "a structure filled too early",
    "uint8_t reason = open_record(words, count, PLY_COUNTERS_WORDS, PLY_COUNTERS_KIND);",
    "uint8_t reason = open_record(words, count, PLY_COUNTERS_WORDS, PLY_COUNTERS_KIND);\n    counters->frames = 0;",
    "promise 5 is broken",
  ],
  [
    "an order without wrap",
    "if (ahead < 0x8000u) {",
    "if (frame_b.sequence > frame->sequence || ahead == 1u) {",
    "promise 6 is broken",
  ],
  ["a sample beyond the run", "burst->samples[burst->count] =", "burst->samples[burst->count + 1] =", "runtime error"],
  [
    "a sequence used twice",
    "    tag->frame.sequence++;\n    tag->counters.frames",
    "    tag->counters.frames",
    "promise 7 is broken",
  ],
  [
    "a seal without the highest bits",
    "seal = seal_word(seal, words[i]);",
    "seal = seal_word(seal, (uint16_t)(words[i] & 0x7FFFu));",
    "promise 8 is broken",
  ],
  [
    "a field that spills into its neighbour",
    "(burst->pressure & PLY_BURST_PRESSURE_MASK)",
    "burst->pressure",
    "promise 9 is broken",
  ],
] as const;

describe("libFuzzer", { timeout: LIMIT_MS }, () => {
  needsAll(["clang"], () => {
    it(`${RUNS} inputs, seeded with the vectors: nothing found`, () => {
      const outcome = fuzz(buildFuzzer(), BOUND);
      expect(outcome.status, outcome.stderr).toBe(0);
      expect(executions(outcome)).toBeGreaterThanOrEqual(RUNS);
    });

    it.each(planted)("finds %s", (_, text, by, seen) => {
      const { status, stderr } = fuzz(buildFuzzer(changedSource(text, by)), BOUND);
      expect(stderr).toContain(seen);
      expect(status).not.toBe(0);
    });
  });
});
