/** What must hold of a life that was let run, and what a reader may have seen before it. */
import { compareSerial } from "../../protocol/codec/slots.ts";
import type { Cells } from "../../sim/bridge/cells.ts";
import type { Life, Operation } from "./life.ts";
import { kinds, type Packed, packed, raws, type View, viewOf } from "./view.ts";
import type { Workload } from "./workloads.ts";

export type Allowed = { readonly [kind in (typeof kinds)[number]]: ReadonlySet<Packed> };

/** What readers may have got so far, and may still get. */
export class Past {
  /** What the memory may show now. */
  readonly allowed: Allowed;
  /** Sequences that readers may have seen; only the latest few can matter. */
  readonly sequences: readonly number[];
  readonly key: string;

  constructor(allowed: Allowed, sequences: readonly number[]) {
    this.allowed = allowed;
    this.sequences = sequences;
    this.key = sequences.join();
  }

  /** What may be shown when the supply fails in `operation`; `landed`: its last write was in the cells. */
  allowedAt(operations: readonly Operation[], operation: Operation, landed: boolean): Allowed {
    const of = (kind: (typeof kinds)[number]): ReadonlySet<Packed> => {
      const done = operations.filter((other) => other.kind === kind && other.to <= operation.from).at(-1);
      const before: ReadonlySet<Packed> = done ? new Set([packed(done.record!)]) : this.allowed[kind];
      if (operation.kind !== kind) return before;
      const fresh = packed(operation.record!);
      // The burst has one place only: while it is written there is none.
      return landed ? new Set([fresh]) : new Set([...before, fresh, ...(kind === "burst" ? [null] : [])]);
    };
    return { frame: of("frame"), counters: of("counters"), calibration: of("calibration"), burst: of("burst") };
  }

  /** The past of a life that was cut in `operation` and then looked at. */
  with(operations: readonly Operation[], operation: Operation, views: readonly View[]): Past {
    const set = (kind: (typeof kinds)[number]) => new Set(views.map((view) => view[kind]));
    const allowed = {
      frame: set("frame"),
      counters: set("counters"),
      calibration: set("calibration"),
      burst: set("burst"),
    };
    const committed = operations.filter(({ kind, to }) => kind === "frame" && to <= operation.from);
    const shown = [...committed.map(({ record }) => packed(record!)), ...allowed.frame];
    return new Past(allowed, latest([...this.sequences, ...sequencesOf(shown)]));
  }
}

function sequencesOf(frames: readonly Packed[]): number[] {
  return frames.flatMap((frame) => (frame === null ? [] : [raws("frame", frame)?.sequence ?? []].flat()));
}

/** The one that none is after. */
function latest(sequences: readonly number[]): number[] {
  return sequences
    .slice(0, 1)
    .map((first) => sequences.reduce((last, next) => (compareSerial(next, last) === 1 ? next : last), first));
}

/** Before the first life: a memory without doubt. */
export function pastOf(cells: Cells): Past {
  const view = viewOf(cells, "old");
  const only = (kind: (typeof kinds)[number]) => new Set([view[kind]]);
  return new Past(
    { frame: only("frame"), counters: only("counters"), calibration: only("calibration"), burst: only("burst") },
    sequencesOf([view.frame]),
  );
}

/** What is wrong with a life, in words; null when nothing is. `number`: which of the samples' lives it was. */
export function checkLife(life: Life, number: number, samples: Workload["samples"], past: Past): string | null {
  if (!life.ended) return `life ${number} came to no end, or a reader's update left a copy that is not new`;
  const frames = recordsOf(life, "frame");
  if (frames.length === 0) return `life ${number} brought no frame`;
  return (
    wrongFrame(frames, number, samples, past) ??
    wrongCounters(recordsOf(life, "counters"), past) ??
    wrongBurst(recordsOf(life, "burst"), number, samples) ??
    wrongEnd(life, past)
  );
}

function recordsOf({ operations }: Life, kind: string): string[] {
  return operations.filter((operation) => operation.kind === kind).map(({ record }) => packed(record!));
}

/** Every frame is one sample of this life, whole, and comes after all that was ever seen. */
function wrongFrame(
  frames: readonly string[],
  number: number,
  samples: Workload["samples"],
  past: Past,
): string | null {
  let seen = past.sequences;
  for (const frame of frames) {
    const found = raws("frame", frame);
    if (!found) return "a frame was committed that is not whole";
    const sample = sampleWith(found.pressure!, number, samples);
    if (!sample) return `a frame holds pressure ${found.pressure}, which is no sample of this life`;
    const supply = sample.sagMv ?? sample.supplyMv;
    const mixed = found.temperature !== sample.temperature || (supply !== null && found.supply !== supply);
    if (mixed) return "a frame is a mix of two samples";
    const back = seen.find((sequence) => compareSerial(found.sequence!, sequence) !== 1);
    if (back !== undefined) return `sequence ${found.sequence} does not come after ${back}, which was seen`;
    seen = [found.sequence!];
  }
  return null;
}

const LIFE_SAMPLES = 160;
const byPressure = new WeakMap<Workload["samples"], Map<number, Map<number, ReturnType<Workload["samples"]>>>>();

function sampleWith(pressure: number, number: number, samples: Workload["samples"]) {
  const lives = byPressure.get(samples) ?? new Map<number, Map<number, ReturnType<Workload["samples"]>>>();
  byPressure.set(samples, lives);
  let life = lives.get(number);
  if (!life) {
    life = new Map();
    for (let n = 0; n < LIFE_SAMPLES; n++) {
      const sample = samples(number, n);
      life.set(sample.pressure, sample);
    }
    lives.set(number, life);
  }
  return life.get(pressure);
}

/** How far a counter may move from one record to the next: a start, sixteen frames and one more, a brown-out. */
const STEPS = { cold_starts: 1, frames: 17, brown_outs: 1, reuse_cycles: 1 } as const;

function wrongCounters(records: readonly string[], past: Past): string | null {
  let before: ReadonlySet<Packed> = past.allowed.counters;
  for (const record of records) {
    const found = raws("counters", record);
    if (!found) return "counters were committed that are not whole";
    const follows = [...before].some((old) => {
      const from = old === null ? null : raws("counters", old);
      return (
        from &&
        Object.entries(STEPS).every(([id, most]) => found[id]! >= from[id]! && found[id]! - from[id]! <= most) &&
        [0, from.fruitless_starts, Math.min(255, from.fruitless_starts! + 1)].includes(found.fruitless_starts!)
      );
    });
    if (!follows) return `counters jump: ${JSON.stringify(found)}`;
    before = new Set([record]);
  }
  return null;
}

/** A burst is a run of this life's samples, each as its difference from the first in 0.5 Pa. */
function wrongBurst(records: readonly string[], number: number, samples: Workload["samples"]): string | null {
  for (const record of records) {
    const found = raws("burst", record);
    if (!found) return "a burst was committed that is not whole";
    const numbers = Array.from({ length: LIFE_SAMPLES }, (_, n) => n);
    const first = numbers.find((n) => samples(number, n).pressure === found.pressure);
    if (first === undefined) return `a burst begins with ${found.pressure}, which is no sample of this life`;
    for (let i = 0; i < found.count!; i++) {
      const difference = (samples(number, first + i).pressure - found.pressure!) / 64;
      if (Math.abs(found[`samples[${i}]`]! - difference) > 0.5) return `sample ${i} of a burst is another's`;
    }
  }
  return null;
}

/** At the end a reader gets what was written last, and nothing else has changed. */
function wrongEnd({ bridge, operations }: Life, past: Past): string | null {
  const end = viewOf(bridge.cells, "old");
  if (bridge.cells.inDoubt && ["new", "mixed"].some((way) => viewOf(bridge.cells, way as "new").frame !== end.frame)) {
    return "the frame is still in doubt at the end of a life";
  }
  for (const kind of kinds) {
    const last = operations.filter((operation) => operation.kind === kind).at(-1);
    const allowed = last ? new Set([packed(last.record!)]) : past.allowed[kind];
    if (kind === "counters" && [...allowed].some((record) => isFull(record) && isFull(end.counters))) continue;
    if (!allowed.has(end[kind])) return `at the end ${kind} shows another record than was written last`;
  }
  return null;
}

/**
 * Starts and frames both at their highest: of two such records none can be told to be the newer, and the count of starts
 * without a frame may be read from the one before.
 */
function isFull(record: Packed): boolean {
  const found = record === null ? null : raws("counters", record);
  return found?.cold_starts === 0xffff_ffff && found.frames === 0xffff_ffff;
}
