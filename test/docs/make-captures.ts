/**
 * Writes the example captures in vectors/captures/: the training leg as a reader saw it in its first seconds, and a damaged
 * copy of it. Run by npm run examples.
 */
import { writeFileSync } from "node:fs";
import { scenarios } from "../../sim/index.ts";
import { damaged } from "./damaged-capture.ts";
import { lockstepCapture } from "./lockstep-capture.ts";

const leg = await lockstepCapture({
  scenario: scenarios["training-leg"]!,
  lastUs: 6_000_000,
  periodMs: 100,
  started: "2026-03-04T09:00:00.000Z",
});
writeFileSync("vectors/captures/training-leg.jsonl", leg);
writeFileSync("vectors/captures/damaged.jsonl", damaged(leg));
