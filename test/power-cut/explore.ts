/** Cuts the supply everywhere in a workload, lets the firmware start again, cuts again, and judges what a reader gets. */
import type { Cells, Reading } from "../../sim/bridge/cells.ts";
import { readings } from "../../sim/bridge/cells.ts";
import { type Cut, cutAt, cutsOf } from "../../sim/bridge/cut.ts";
import { checkLife, type Past, pastOf } from "./check-life.ts";
import type { Life, Operation } from "./life.ts";
import { kinds, type Packed, packed, stateOf, unpacked, type View, viewOf } from "./view.ts";
import type { Workload } from "./workloads.ts";

/** What became of the record that was being written. */
export type Outcome = "old kept" | "new kept" | "damage detected" | "damage undetected";

export interface Finding {
  /** Replays it: `workload/cut/mode[/cut/mode][/reading]`. */
  readonly id: string;
  readonly says: string;
}

export interface Tally {
  /** Cuts made, the same state counted each time. */
  cuts: number;
  /** States of memory and past that no two cuts share. */
  states: number;
  lives: number;
  readonly findings: Finding[];
  readonly outcomes: Map<string, Record<Outcome, number>>;
}

export function newTally(): Tally {
  return { cuts: 0, states: 0, lives: 0, findings: [], outcomes: new Map() };
}

export interface Depth {
  /** Whether this pair is tried; null: single cuts only. */
  readonly pair: ((index: number) => boolean) | null;
  /** Findings after which it ends. */
  readonly enough: number;
}

/** Explores one workload into `tally`. */
export function explore(module: WebAssembly.Module, workload: Workload, depth: Depth, tally: Tally): void {
  const first = workload.live(module, workload.cells, 1, "old");
  const past = pastOf(workload.cells);
  const found = (id: string, says: string | null) => {
    if (says !== null) tally.findings.push({ id: `${workload.name}/${id}`, says });
    return says !== null;
  };
  tally.lives++;
  if (found("0/before", checkLife(first, 1, workload.samples, past))) return;
  // Two sets: a state seen after a second cut is still to be cut again when a first cut leads to it.
  const seenOnce = new Set<string>();
  const seenTwice = new Set<string>();
  let pairs = 0;
  for (const cut of cutsOf(first.bridge.writes, workload.from(first))) {
    if (tally.findings.length >= depth.enough) return;
    const id = `${cut.at}/${cut.mode}`;
    const once = judge(first, cut, past, tally);
    if (found(id, once.says)) continue;
    const key = `${once.cells.key()}|${once.reading}|${once.past.key}`;
    if (seenOnce.has(key)) continue;
    seenOnce.add(key);
    tally.states++;
    const second = workload.live(module, once.cells, 2, once.reading);
    tally.lives++;
    if (found(id, checkLife(second, 2, workload.samples, once.past)) || !depth.pair) continue;
    for (const again of cutsOf(second.bridge.writes)) {
      if (!depth.pair(pairs++)) continue;
      if (tally.findings.length >= depth.enough) return;
      const twice = judge(second, again, once.past, tally);
      if (found(`${id}/${again.at}/${again.mode}`, twice.says)) continue;
      const choices = again.mode.startsWith("doubt-") || !twice.cells.inDoubt ? [twice.reading] : readings;
      for (const reading of choices) {
        const key2 = `${twice.cells.key()}|${reading}|${twice.past.key}`;
        if (seenTwice.has(key2)) continue;
        seenTwice.add(key2);
        tally.states++;
        const third = workload.live(module, twice.cells, 3, reading);
        tally.lives++;
        const suffix = choices.length > 1 ? `/${reading}` : "";
        found(`${id}/${again.at}/${again.mode}${suffix}`, checkLife(third, 3, workload.samples, twice.past));
      }
    }
  }
}

interface Judged {
  readonly cells: Cells;
  readonly reading: Reading;
  readonly past: Past;
  /** What is wrong, in words; null when nothing is. */
  readonly says: string | null;
}

/** Cuts a life and looks at the memory with a reader's eyes, in every way its bits in doubt may read. */
export function judge(life: Life, cut: Cut, past: Past, tally: Tally): Judged {
  tally.cuts++;
  const { cells, reading } = cutAt(life.before, life.bridge.writes, cut);
  const operation = life.operations.find(({ to }) => to > cut.at)!;
  const landed = cut.mode === "after" && cut.at === operation.to - 1;
  const allowed = past.allowedAt(life.operations, operation, landed);
  const views = (cells.inDoubt ? readings : [reading]).map((way) => ({ way, view: viewOf(cells, way) }));
  let says: string | null = null;
  for (const { way, view } of views) {
    const wrong = kinds.filter((kind) => !allowed[kind].has(view[kind]));
    for (const kind of wrong)
      says ??= `${kind} shows ${told(view[kind])} instead of ${[...allowed[kind]].map(told).join(" or ")}`;
    count(tally, life, operation, cut.at, outcomeOf(operation, cells, way, view, wrong.length > 0));
  }
  return {
    cells,
    reading,
    says,
    past: past.with(
      life.operations,
      operation,
      views.map(({ view }) => view),
    ),
  };
}

function told(record: Packed): string {
  return record === null
    ? "nothing"
    : unpacked(record)
        .map((word) => word.toString(16).padStart(4, "0"))
        .join(" ");
}

function outcomeOf(operation: Operation, cells: Cells, way: Reading, view: View, wrong: boolean): Outcome {
  if (wrong) return "damage undetected";
  if (operation.kind === "confirm") return "old kept";
  const place = packed(cells.read(operation.word, operation.record!.length, way));
  if (place === packed(operation.record!) && (operation.kind === "calibration" || view[operation.kind] === place))
    return "new kept";
  return stateOf(operation.kind, place) === "torn" ? "damage detected" : "old kept";
}

/** Name of the write that was cut, the same for every record of that kind. */
export function pointOf({ kind, word, from }: Operation, life: Life, at: number): string {
  if (kind === "confirm") return "word 0 again";
  const offset = life.bridge.writes[at]!.word - word;
  if (offset === 0) return at === from ? "word 0 to zero" : "word 0";
  if (offset === 1) return "word 1";
  const seal = { frame: 7, counters: 7, calibration: 15, burst: 31 }[kind];
  return offset === seal ? "seal" : `words 2 to ${seal - 1}`;
}

function count(tally: Tally, life: Life, operation: Operation, at: number, outcome: Outcome): void {
  const row = `${operation.kind}|${pointOf(operation, life, at)}`;
  let counts = tally.outcomes.get(row);
  if (!counts) {
    counts = { "old kept": 0, "new kept": 0, "damage detected": 0, "damage undetected": 0 };
    tally.outcomes.set(row, counts);
  }
  counts[outcome]++;
}
