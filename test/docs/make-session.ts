/**
 * Writes the example session's capture in vectors/examples/: the training leg from lying down to lying down again, one
 * inventory round every half second. The session file beside it is written by hand.
 */
import { writeFileSync } from "node:fs";
import { scenarios } from "../../sim/index.ts";
import { lockstepCapture } from "./lockstep-capture.ts";

/** The leg of the demonstration, with more time in each posture. */
const scenario = {
  ...scenarios["training-leg"]!,
  phases: [
    { fromS: 0, posture: "resting" },
    { fromS: 40, posture: "standing" },
    { fromS: 65, posture: "walking" },
    { fromS: 145, posture: "resting" },
  ] as const,
};
const text = await lockstepCapture({
  scenario,
  lastUs: 180_000_000,
  periodMs: 500,
  started: "2026-03-04T10:00:00.000Z",
});
writeFileSync("vectors/examples/training-leg-session.jsonl", text);
