/** Builds the libFuzzer target and feeds it the published vectors to begin with. */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { firmwareSource, harness, includes } from "./image.ts";
import { attempt, type Outcome, root, run, workFolder } from "./program.ts";
import { questions } from "./questions.ts";

/** Byte that chooses a check in fuzz.c, by the number of a question. */
const checks: Readonly<Record<number, number>> = { 1: 0, 2: 1, 3: 2, 4: 3 };
const [SEAL, BURST, DUTY_CYCLE] = [4, 5, 6];

/** Builds the target from the firmware, or from another source in its place; returns its folder. */
export function buildFuzzer(source: string = firmwareSource): string {
  const folder = workFolder();
  const sanitize = ["-fsanitize=fuzzer,address,undefined", "-fno-sanitize-recover=undefined"];
  const sources = [source, join(root, "test/firmware/fuzz/fuzz.c"), harness("board.c")];
  run(
    "clang",
    ["-std=c99", "-g", "-O1", ...sanitize, "-DPLY_BURST_EVERY=2", ...includes, ...sources, "-o", "fuzz"],
    folder,
  );
  mkdirSync(join(folder, "corpus"));
  for (const { id, ask, words } of questions) {
    if (!(ask in checks)) continue;
    const bytes = words.flatMap((word) => [word >> 8, word & 0xff]);
    const seed = (check: number, name: string) =>
      writeFileSync(join(folder, "corpus", `${id}-${name}`), Uint8Array.from([check, ...bytes]));
    seed(checks[ask]!, "plain");
    if (ask === 3) seed(SEAL, "seal");
    if (ask === 4) {
      seed(BURST, "burst");
      seed(DUTY_CYCLE, "duty-cycle");
    }
  }
  return folder;
}

/** Runs it; `bound` is libFuzzer's own option for how long. Its status is 0 when nothing was found. */
export function fuzz(folder: string, bound: string, seed = 7): Outcome {
  return attempt(
    join(folder, "fuzz"),
    [bound, `-seed=${seed}`, "-max_len=161", "-print_final_stats=1", "corpus"],
    folder,
  );
}

/** Inputs that were run, from libFuzzer's own account. */
export function executions({ stderr }: Outcome): number {
  return Number(/number_of_executed_units:\s*(\d+)/.exec(stderr)?.[1] ?? 0);
}
