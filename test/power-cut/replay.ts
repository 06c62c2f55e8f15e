/** Repeats one cut by its name, with the words shown. */
import type { Cells, Reading } from "../../sim/bridge/cells.ts";
import { cutAt } from "../../sim/bridge/cut.ts";
import { checkLife, pastOf } from "./check-life.ts";
import { judge, newTally, pointOf } from "./explore.ts";
import type { Life } from "./life.ts";
import { kinds, unpacked, viewOf } from "./view.ts";
import type { Workload } from "./workloads.ts";

const REGIONS = {
  "slot A": [8, 8],
  "slot B": [16, 8],
  "counters A": [24, 8],
  "counters B": [32, 8],
  "calibration 1": [40, 16],
  "calibration 2": [56, 16],
  burst: [72, 32],
} as const;

const hex = (words: ArrayLike<number>) => Array.from(words, (word) => word.toString(16).padStart(4, "0")).join(" ");

/** Lines that tell what happens at `workload/cut/mode[/cut/mode][/reading]`. Throws for an id that names no cut. */
export function* replay(module: WebAssembly.Module, workloads: readonly Workload[], id: string): Generator<string> {
  const [name, ...parts] = id.split("/");
  const workload = workloads.find((candidate) => candidate.name === name);
  if (!workload || parts.length < 2)
    throw new Error(`${id} names no cut; workloads: ${workloads.map((w) => w.name).join(", ")}`);
  let cells: Cells = workload.cells;
  let reading: Reading = "old";
  let past = pastOf(cells);
  for (let number = 1; parts.length >= 2; number++) {
    const [at, mode] = parts.splice(0, 2) as [string, string];
    const life = workload.live(module, cells, number, reading);
    yield* told(life, number, checkLife(life, number, workload.samples, past));
    const cut = { at: Number(at), mode };
    const { word, value } = life.bridge.writes[cut.at] ?? {};
    const operation = life.operations.find(({ to }) => to > cut.at);
    if (word === undefined || !operation) throw new Error(`start ${number} has no write ${at}`);
    yield `cut: write ${at}, ${mode}: word ${word} to ${hex([value!])} (${operation.kind}, ${pointOf(operation, life, cut.at)})`;
    const judged = judge(life, cut, past, newTally());
    yield* memory(judged.cells);
    yield judged.says === null ? "a reader gets what it may get" : `WRONG: ${judged.says}`;
    ({ cells, reading } = cutAt(life.before, life.bridge.writes, cut));
    past = judged.past;
    const way = parts.length === 1 ? parts[0] : undefined;
    if (way !== undefined) reading = way as Reading;
    if (parts.length < 2) {
      const last = workload.live(module, cells, number + 1, reading);
      yield* told(last, number + 1, checkLife(last, number + 1, workload.samples, past));
    }
  }
}

function* told(life: Life, number: number, says: string | null): Generator<string> {
  yield `start ${number}: ${life.operations.map(({ kind, word, from, to }) => `${kind} at word ${word} (writes ${from} to ${to - 1})`).join(", ")}`;
  if (says !== null) yield `WRONG: ${says}`;
}

function* memory(cells: Cells): Generator<string> {
  for (const [region, [word, count]] of Object.entries(REGIONS)) {
    const old = hex(cells.read(word, count, "old"));
    const other = hex(cells.read(word, count, "new"));
    yield `  ${region.padEnd(13)} ${old}`;
    if (other !== old) yield `  ${"or reads".padEnd(13)} ${other}`;
  }
  const view = viewOf(cells, "old");
  for (const kind of kinds)
    yield `  reader: ${kind.padEnd(11)} ${view[kind] === null ? "none" : hex(unpacked(view[kind]))}`;
}
