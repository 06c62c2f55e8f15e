/** What the suite cuts the supply of: each workload is a memory, a first life to be cut, and what follows it. */
import { updateCalibration } from "../../protocol/codec/calibration-update.ts";
import { layout } from "../../protocol/index.ts";
import { recordOf } from "../../protocol/model/layout.ts";
import type { Bridge } from "../../sim/bridge/bridge.ts";
import type { Cells, Reading } from "../../sim/bridge/cells.ts";
import { burstOf, calibrationNew, countersOf, frameOf, image } from "./images.ts";
import { type End, type Life, live, type Operation, type RecordId, withCalibration } from "./life.ts";
import { matching } from "./matching.ts";
import { type Sample, sampleOf } from "./world.ts";

export interface Workload {
  readonly name: string;
  readonly about: string;
  readonly cells: Cells;
  /** The first write that is cut; those before it are there to get so far. */
  readonly from: (life: Life) => number;
  readonly samples: (life: number, n: number) => Sample;
  /** Life `number`, from 1; only the first one brings the workload's own business about. */
  live(module: WebAssembly.Module, cells: Cells, number: number, reading: Reading): Life;
}

/** Writes a calibration block as a reader does; the other procedures are there to be found out. */
export type Update = (bridge: Bridge) => boolean;

/** Access by access, over a field that lasts: every write is in the cells before the next. */
export const updateAsAReader: Update = (bridge) => {
  const accesses = updateCalibration(recordOf(layout, "calibration"), calibrationNew);
  let next = accesses.next();
  while (!next.done) {
    const access = next.value;
    if (access.kind === "read") {
      next = accesses.next(Array.from(bridge.read(access.word, access.count) ?? []));
    } else {
      bridge.write(access.word, access.value);
      bridge.settle();
      next = accesses.next([]);
    }
  }
  return next.value;
};

/** At rest after so many records of a kind. */
export function after(kind: RecordId, count: number): End {
  return (operations, next) =>
    next === "check_supply" && operations.filter((operation) => operation.kind === kind).length >= count;
}

/** At rest after the first frame of a start. */
export const oneFrame = after("frame", 1);

function workload(
  name: string,
  about: string,
  cells: Cells,
  end: End,
  more: { samples?: Workload["samples"]; from?: (operation: Operation) => boolean } = {},
): Workload {
  const samples = more.samples ?? sampleOf;
  return {
    name,
    about,
    cells,
    samples,
    from: ({ operations }) => operations.find(more.from ?? (() => true))!.from,
    live: (module, before, number, reading) =>
      live(module, before, { samples: (n) => samples(number, n), end: number === 1 ? end : oneFrame, reading }),
  };
}

/** An update that says it is done has to have brought the block into both copies. */
function holdsTheNew({ cells }: Bridge): boolean {
  return [40, 56].every((word) => cells.read(word, 16, "old").every((value, i) => value === calibrationNew[i]));
}

export function calibrationWorkload(update: Update): Workload {
  const samples = sampleOf;
  return {
    name: "calibration",
    about: "a reader writes a new calibration block, and after a cut begins again",
    cells: image({ slotA: frameOf(50), slotB: frameOf(51), countersA: countersOf({ cold_starts: 3, frames: 51 }) }),
    samples,
    from: ({ operations }) => operations.find(({ kind }) => kind === "calibration")!.from - 1,
    live: (module, before, number, reading) =>
      withCalibration(
        live(module, before, { samples: (n) => samples(number, n), end: oneFrame, reading }),
        (bridge) => update(bridge) && holdsTheNew(bridge),
      ),
  };
}

const sequence = (first: number) => ({ slotA: frameOf(first), slotB: frameOf((first + 1) & 0xffff) });
const counts = {
  countersA: countersOf({ cold_starts: 8, frames: 90, brown_outs: 2 }),
  countersB: countersOf({ cold_starts: 7, frames: 74, brown_outs: 2, fruitless_starts: 1 }),
};
const full = { cold_starts: 0xffff_fffe, frames: 0xffff_fffd, brown_outs: 0xff_fffe, fruitless_starts: 253 };
const SAG_AT = 19;

const plain: readonly Workload[] = [
  workload("cold-start", "a tag's first life, to its first frame", image(), oneFrame),
  workload("frames", "a cold start and three frames", image({ ...sequence(100), ...counts }), after("frame", 3)),
  workload("sequence-wrap", "frames 65535, 0 and 1", image({ ...sequence(65_533), ...counts }), after("frame", 3)),
  workload(
    "counters-full",
    "counters at their highest value and one below it",
    image({
      ...sequence(200),
      countersA: countersOf(full),
      countersB: countersOf({ ...full, cold_starts: 0xffff_fffd }),
    }),
    after("frame", 3),
  ),
  workload(
    "counters",
    "the counters' turn after sixteen frames, and a brown-out",
    image({ ...sequence(300), ...counts }),
    after("counters", 4),
    {
      samples: (life, n) => ({ ...sampleOf(life, n), ...(life === 1 && n === SAG_AT && { sagMv: 1700 }) }),
      from: ({ kind, from }) => kind === "counters" && from > 60,
    },
  ),
  workload(
    "burst",
    "a burst over an older one, and the frame that tells of it",
    image({ ...sequence(400), ...counts, burst: burstOf(Array.from({ length: 25 }, (_, i) => 31 * i - 300)) }),
    (operations, next) =>
      next === "check_supply" && operations.at(-1)?.kind === "frame" && operations.at(-2)?.kind === "burst",
    { from: ({ kind }) => kind === "burst" },
  ),
  calibrationWorkload(updateAsAReader),
];

/**
 * The worst that data can do: old and new records chosen so that a certain mix of them carries a seal that fits. What the
 * checksum cannot see has to be kept out by the order of writes alone.
 */
export function matchingWorkloads(module: WebAssembly.Module): Workload[] {
  const base = {
    ...sequence(500),
    countersA: countersOf({ cold_starts: 70_008, frames: 900_090, brown_outs: 9002 }),
    countersB: countersOf({ cold_starts: 70_007, frames: 900_074, brown_outs: 9002 }),
  };
  const bursty = image({ ...sequence(400), ...counts });
  const untilBurst: End = (operations) => operations.some(({ kind }) => kind === "burst");
  const seen = (cells: Cells, end: End, kind: RecordId, nth: number) => {
    const { operations } = live(module, cells, { samples: (n) => sampleOf(1, n), end });
    return operations.filter((operation) => operation.kind === kind)[nth]!.record!;
  };
  const frame = seen(image(base), oneFrame, "frame", 0);
  const counter = seen(image(base), oneFrame, "counters", 0);
  const burst = seen(bursty, untilBurst, "burst", 0);
  const about = (mix: readonly number[]) => `a mix with words ${mix.join(", ")} new carries a seal that fits`;
  return [
    ...[
      [0, 1, 2, 3],
      [0, 1, 7],
      [0, 1, 5, 6, 7],
      [1, 2, 3, 4],
    ].map((mix) =>
      workload(
        `matching-frame-${mix.join("")}`,
        about(mix),
        image({ ...base, slotA: matching.frame(frame, mix) }),
        oneFrame,
      ),
    ),
    ...[
      [2, 3, 4, 5],
      [0, 1, 7],
      [2, 3, 4],
    ].map((mix) =>
      workload(
        `matching-counters-${mix.join("")}`,
        about(mix),
        image({ ...base, countersB: matching.counters(counter, mix) }),
        oneFrame,
      ),
    ),
    workload(
      "matching-burst",
      about([2, 3, 4, 5, 6, 7, 8]),
      image({ ...sequence(400), ...counts, burst: matching.burst(burst, [2, 3, 4, 5, 6, 7, 8]) }),
      untilBurst,
      { from: ({ kind }) => kind === "burst" },
    ),
  ];
}

export { plain as plainWorkloads };
