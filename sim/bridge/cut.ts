/** Where and how the supply fails in a list of word writes; a cut has a name, so that it can be repeated. */
import type { WordWrite } from "./bridge.ts";
import { type Cells, type Reading, readings, type TornEnd } from "./cells.ts";

/**
 * `before`, `after`: between two writes. `msb7`, `lsb7`: inside the write, seven bits of it new. `doubt-new`: inside the
 * write, every bit that changes left between old and new and reading as new at the next start. `landed-01t1`: of the writes
 * of one group, in the order they were asked for, those that reached the cells, `t` for one torn after eight bits.
 */
export interface Cut {
  /** Index of the last write that was asked for. */
  readonly at: number;
  readonly mode: string;
}

/** Memory as the supply's failure leaves it, and how its bits in doubt read at the next start. Throws for a wrong name. */
export function cutAt(
  before: Cells,
  writes: readonly WordWrite[],
  { at, mode }: Cut,
): { readonly cells: Cells; readonly reading: Reading } {
  const cells = before.copy();
  const last = writes[at];
  const [, kind, detail] = /^(before|after|msb|lsb|doubt-|landed-)([a-z0-9]*)$/.exec(mode) ?? [];
  if (!last || kind === undefined || detail === undefined) throw new Error(`no cut ${mode} at ${at}`);
  if (kind === "landed-") return { cells: landed(cells, writes, at, detail), reading: "old" };
  for (const { word, value } of writes.slice(0, at)) cells.write(word, value);
  let reading: Reading = "old";
  if (kind === "after") cells.write(last.word, last.value);
  else if (kind === "doubt-") {
    reading = readings.find((name) => name === detail)!;
    cells.doubt(last.word, last.value);
  } else if (kind !== "before") cells.tear(last.word, last.value, Number(detail), kind as TornEnd);
  return { cells, reading };
}

function landed(cells: Cells, writes: readonly WordWrite[], at: number, marks: string): Cells {
  const first = groupStart(writes, at);
  for (const { word, value } of writes.slice(0, first)) cells.write(word, value);
  for (let i = 0; i < marks.length; i++) {
    const { word, value } = writes[first + i]!;
    if (marks[i] === "1") cells.write(word, value);
    else if (marks[i] === "t") cells.tear(word, value, 8, "msb");
  }
  return cells;
}

/** Index of the first write that the bridge may still hold back when write `at` is asked for. */
export function groupStart(writes: readonly WordWrite[], at: number): number {
  let first = at;
  while (first > 0 && writes[first - 1]!.group === writes[at]!.group) first--;
  return first;
}

const TORN_BITS = Array.from({ length: 15 }, (_, i) => i + 1);
const IN_ORDER: readonly string[] = [
  "before",
  "after",
  ...TORN_BITS.flatMap((bits) => [`msb${bits}`, `lsb${bits}`]),
  ...readings.map((reading) => `doubt-${reading}`),
];
/** Groups up to this many writes are taken in every order. */
const EVERY_SUBSET = 9;

/**
 * Every cut of a list of writes from index `from` on. Small groups: every set of writes that landed, and every one torn;
 * large ones: each write alone, each missing alone, each torn, and the first one late.
 */
export function* cutsOf(writes: readonly WordWrite[], from = 0): Generator<Cut> {
  for (let at = from; at < writes.length; at++) {
    for (const mode of IN_ORDER) yield { at, mode };
    // Fewer writes asked for is the same as the last ones not landed, so only a whole group is taken in every order.
    const length = at - groupStart(writes, at) + 1;
    if (length === 1 || writes[at + 1]?.group === writes[at]!.group) continue;
    for (const marks of length <= EVERY_SUBSET ? subsets(length) : oneOut(length))
      yield { at, mode: `landed-${marks}` };
  }
}

function* subsets(length: number): Generator<string> {
  for (let set = 0; set < 2 ** length; set++) {
    const marks = set.toString(2).padStart(length, "0");
    yield marks;
    for (let i = 0; i < length; i++) {
      if (marks[i] === "0") yield `${marks.slice(0, i)}t${marks.slice(i + 1)}`;
    }
  }
}

function* oneOut(length: number): Generator<string> {
  for (let i = 0; i < length; i++) {
    for (const [one, others] of ["10", "01", "t0", "t1"]) {
      yield others!.repeat(i) + one + others!.repeat(length - i - 1);
    }
    yield `0${"1".repeat(i)}${"0".repeat(length - i - 1)}`;
  }
}
