/** One life of the firmware: from the supply's coming to a point of rest, with every word write it makes on the way. */
import { isFault } from "../../protocol/codec/encode.ts";
import { decode, rawOf } from "../../protocol/codec/record.ts";
import { layout } from "../../protocol/index.ts";
import { recordOf } from "../../protocol/model/layout.ts";
import { Bridge } from "../../sim/bridge/bridge.ts";
import type { Cells, Reading } from "../../sim/bridge/cells.ts";
import { type Phase, Program } from "../../sim/firmware/program.ts";
import { toBytes } from "../../sim/tag/words.ts";
import type { Sample } from "./world.ts";

export type RecordId = "frame" | "counters" | "calibration" | "burst";

/** A run of writes with one purpose. */
export interface Operation {
  /** `confirm`: word 0 of what was found whole is written once more. */
  readonly kind: RecordId | "confirm";
  /** First word of the region. */
  readonly word: number;
  /** Writes `[from, to)` of the life. */
  readonly from: number;
  readonly to: number;
  /** The whole record it brings; none for `confirm`. */
  readonly record: readonly number[] | null;
}

export interface Life {
  /** Memory when it began. */
  readonly before: Cells;
  readonly bridge: Bridge;
  readonly operations: readonly Operation[];
  /** False when it did not come to its end in the steps it was given. */
  readonly ended: boolean;
}

/** Ends a life: operations so far, and the phase that comes next. */
export type End = (operations: readonly Operation[], next: Phase) => boolean;

const LENGTH: Readonly<Record<RecordId, number>> = { frame: 8, counters: 8, calibration: 16, burst: 32 };
const COMMITS: Partial<Record<Phase, RecordId>> = {
  commit_frame: "frame",
  commit_counters: "counters",
  commit_burst: "burst",
};
/** Steps after which a life that has not ended is given up. */
const STEPS = 5000;
const RAM_GARBAGE = 0xa5;

const programs = new WeakMap<WebAssembly.Module, { program: Program; board: { life: Board | null } }>();

/** One instance a module, used again for every life: what RAM held before is garbage to the next one. */
function programOf(module: WebAssembly.Module) {
  let found = programs.get(module);
  if (!found) {
    const board: { life: Board | null } = { life: null };
    const on = () => board.life!;
    const program = new Program(module, {
      nowMs: () => on().nowMs,
      sleepUntil: (ms) => on().sleepUntil(ms),
      supplyMv: () => on().supplyMv(),
      sensorStart: () => on().startSample(),
      sensorReady: () => true,
      sensorRead: () => on().sample(),
      bridgeRead: (word, count) => on().read(word, count),
      bridgeWrite: (word, value) => on().write(word, value),
      bridgeSettle: () => on().settle(),
    });
    programs.set(module, (found = { program, board }));
  }
  return found;
}

class Board {
  nowMs = 0;
  readonly #bridge: Bridge;
  readonly #conditions: Conditions;
  #n = 0;
  #sagged = true;

  constructor(bridge: Bridge, conditions: Conditions) {
    this.#bridge = bridge;
    this.#conditions = conditions;
  }

  sleepUntil(ms: number): void {
    const asleepMs = Math.max(0, ms - this.nowMs);
    this.nowMs += asleepMs;
    this.#conditions.store?.sleep(asleepMs);
  }

  sample(): Sample {
    return this.#conditions.samples(this.#n);
  }

  startSample(): boolean {
    this.#conditions.store?.spend("conversion", this.#bridge.writes.length);
    this.#n++;
    this.#sagged = false;
    return true;
  }

  supplyMv(): number {
    const { supplyMv, sagMv } = this.sample();
    if (supplyMv === null) return this.#conditions.store!.supplyMv();
    if (sagMv === undefined || this.#sagged) return supplyMv;
    this.#sagged = true;
    return sagMv;
  }

  read(word: number, count: number): Uint16Array | null {
    this.#conditions.store?.spend("read", this.#bridge.writes.length);
    return this.#bridge.read(word, count);
  }

  write(word: number, value: number): boolean {
    this.#conditions.store?.spend("write", this.#bridge.writes.length);
    return this.#bridge.write(word, value);
  }

  settle(): boolean {
    return this.#bridge.settle();
  }
}

/** What a life is lived with. */
export interface Conditions {
  readonly samples: (n: number) => Sample;
  readonly end: End;
  /** How bits in doubt read. */
  readonly reading?: Reading;
  /** Whether the bridge refuses its n-th call. */
  readonly refuses?: (call: number) => boolean;
  /** Where the energy comes from; without one there is always enough. */
  readonly store?: Store;
}

/** A store of energy that is asked for every expense and may run empty at any of them. */
export interface Store {
  supplyMv(): number;
  spend(expense: "phase" | "read" | "write" | "conversion", writes: number): void;
  sleep(ms: number): void;
}

/** Lives until the end it is given. The memory given is left as it is. */
export function live(module: WebAssembly.Module, before: Cells, conditions: Conditions): Life {
  const { end, reading, refuses } = conditions;
  const bridge = new Bridge(before.copy(), reading, refuses);
  const { program, board } = programOf(module);
  board.life = new Board(bridge, conditions);
  program.state.fill(RAM_GARBAGE);
  program.start();
  const operations: Operation[] = [];
  for (let step = 0; step < STEPS; step++) {
    const { phase } = program;
    const from = bridge.writes.length;
    conditions.store?.spend("phase", from);
    program.step();
    const to = bridge.writes.length;
    if (to > from) operations.push(operationOf(COMMITS[phase] ?? "confirm", bridge, from, to));
    if (end(operations, program.phase)) return { before, bridge, operations, ended: true };
  }
  return { before, bridge, operations, ended: false };
}

/** Adds a reader's writes to a life, as one operation a run of writes to one copy. */
export function withCalibration(life: Life, update: (bridge: Bridge) => boolean): Life {
  const from = life.bridge.writes.length;
  const ended = update(life.bridge) && life.ended;
  const operations = [...life.operations];
  const { writes } = life.bridge;
  let start = from;
  const placeOf = (word: number) => (word < 56 ? 40 : 56);
  for (let i = from + 1; i <= writes.length; i++) {
    if (i < writes.length && placeOf(writes[i]!.word) === placeOf(writes[start]!.word)) continue;
    const kind = i - start === 1 ? "confirm" : "calibration";
    operations.push(operationOf(kind, life.bridge, start, i, placeOf(writes[start]!.word)));
    start = i;
  }
  return { ...life, operations, ended };
}

/** The record of an operation is what its writes leave behind, whatever their order. */
function operationOf(
  kind: Operation["kind"],
  bridge: Bridge,
  from: number,
  to: number,
  word = Math.min(...bridge.writes.slice(from, to).map((write) => write.word)),
): Operation {
  if (kind === "confirm") return { kind, word, from, to, record: null };
  return { kind, word, from, to, record: Array.from(bridge.cells.read(word, LENGTH[kind], "old")) };
}

/** Raw values of a record, or null when it is not whole: by the decoder of the specification, never by the firmware's. */
export function rawsIn(kind: RecordId, words: ArrayLike<number>): Readonly<Record<string, number>> | null {
  const record = recordOf(layout, kind);
  const decoded = decode(record, toBytes(words));
  if (isFault(decoded)) return null;
  return Object.fromEntries(record.fields.map(({ id }) => [id, rawOf(decoded, id)]));
}
