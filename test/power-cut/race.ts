/**
 * A reader reads while the firmware writes: every way in which the ascending words of one Read can fall between the word
 * writes of a commit. Ways with the same words read are counted together, so that none is left out.
 */
import { chooseSlot, compareSerial } from "../../protocol/codec/slots.ts";
import { layout } from "../../protocol/index.ts";
import { recordOf } from "../../protocol/model/layout.ts";
import type { WordWrite } from "../../sim/bridge/bridge.ts";
import { toBytes } from "../../sim/tag/words.ts";
import { frameOf, image } from "./images.ts";
import { type Life, live, type Operation } from "./life.ts";
import { after } from "./workloads.ts";
import { sampleOf } from "./world.ts";

const SLOT_A = 8;
const SLOTS = 16;
const WORDS = 8;

/** What one Read of both slots may bring, and in how many ways. */
export interface Sight {
  readonly words: readonly number[];
  readonly ways: number;
}

/** Every different outcome of a Read of words 8 to 23, begun and ended anywhere among these writes. */
export function sightsOf(memory: ArrayLike<number>, writes: readonly WordWrite[]): Sight[] {
  const values = Array.from({ length: SLOTS }, (_, i) => {
    const history = [memory[SLOT_A + i]!];
    for (const { word, value } of writes) history.push(word === SLOT_A + i ? value : history.at(-1)!);
    return history;
  });
  // By the words read so far: ways to have read them with so many writes done.
  let ways = new Map<string, Float64Array>([["", new Float64Array(writes.length + 1)]]);
  ways.get("")![0] = 1;
  for (const history of values) {
    const next = new Map<string, Float64Array>();
    for (const [text, counts] of ways) {
      let earlier = 0;
      for (let done = 0; done <= writes.length; done++) {
        earlier += counts[done]!;
        if (earlier === 0) continue;
        const key = text + String.fromCharCode(history[done]!);
        let target = next.get(key);
        if (!target) next.set(key, (target = new Float64Array(writes.length + 1)));
        target[done]! += earlier;
      }
    }
    ways = next;
  }
  return [...ways].map(([text, counts]) => ({
    words: Array.from(text, (char) => char.charCodeAt(0)),
    ways: counts.reduce((sum, count) => sum + count, 0),
  }));
}

export type Verdict = "newest before" | "newest after" | "older" | "none" | "mix";

/** What is right to be shown: the newest whole frame before the writes and those committed by them, oldest first. */
export interface Right {
  readonly older: readonly string[];
  readonly before: string;
  readonly after: readonly string[];
}

const frameRecord = recordOf(layout, "frame");
const key = (words: readonly number[]) => words.join();

/** What a reader makes of a sight, by the rules of the specification. */
export function verdictOf({ words }: Sight, right: Right): Verdict {
  const { slot } = chooseSlot(frameRecord, toBytes(words), 0, 2 * WORDS);
  if (slot === null) return "none";
  return verdictOfFrame(slot === "a" ? words.slice(0, WORDS) : words.slice(WORDS), right);
}

/**
 * The same with the worst of luck: every mix has a seal that fits, unless all of its difference from a whole frame lies in
 * one word, which a 16-bit checksum never misses.
 */
export function verdictWithoutSeal({ words }: Sight, right: Right): Verdict {
  const known = [...right.older, right.before, ...right.after].map((text) => text.split(",").map(Number));
  const [a, b] = [words.slice(0, WORDS), words.slice(WORDS)].map((slot) => {
    if (slot[0]! >> 12 !== 2) return null;
    const differences = known.map((frame) => frame.filter((word, i) => word !== slot[i]).length);
    return differences.includes(0) || !differences.includes(1) ? slot : null;
  });
  if (!a || !b) {
    const only = a ?? b;
    return only ? verdictOfFrame(only, right) : "none";
  }
  const order = compareSerial(a[1]!, b[1]!);
  if (order === null || (order === 0 && key(a) !== key(b))) return "none";
  return verdictOfFrame(order >= 0 ? a : b, right);
}

function verdictOfFrame(frame: readonly number[], { older, before, after }: Right): Verdict {
  const text = key(frame);
  if (after.includes(text)) return "newest after";
  if (text === before) return "newest before";
  return older.includes(text) ? "older" : "mix";
}

/** Ways by verdict. */
export function countRace(
  sights: readonly Sight[],
  right: Right,
  judge: (sight: Sight, right: Right) => Verdict,
): Record<Verdict, number> {
  const counts = { "newest before": 0, "newest after": 0, older: 0, none: 0, mix: 0 };
  for (const sight of sights) counts[judge(sight, right)] += sight.ways;
  return counts;
}

/** Every order in which the bridge may write a list, groups one after the other. */
export function* ordersOf(writes: readonly WordWrite[]): Generator<WordWrite[]> {
  const groups = [...new Set(writes.map(({ group }) => group))];
  yield* combine(groups.map((group) => [...permutations(writes.filter((write) => write.group === group))]));
}

function* combine(choices: readonly (readonly WordWrite[][])[]): Generator<WordWrite[]> {
  const [first, ...rest] = choices;
  if (!first) yield [];
  else for (const head of first) for (const tail of combine(rest)) yield [...head, ...tail];
}

function* permutations(list: readonly WordWrite[]): Generator<WordWrite[]> {
  if (list.length <= 1) yield [...list];
  for (let i = 0; i < list.length && list.length > 1; i++) {
    // The bridge keeps the order of two writes to the same word.
    if (list.slice(0, i).some(({ word }) => word === list[i]!.word)) continue;
    for (const rest of permutations([...list.slice(0, i), ...list.slice(i + 1)])) yield [list[i]!, ...rest];
  }
}

/** Ways by verdict, with the seal as it is and as if every seal fitted. */
export interface Race {
  readonly orders: number;
  readonly ways: number;
  readonly sealed: Record<Verdict, number>;
  readonly withoutSeal: Record<Verdict, number>;
}

const before = image({ slotA: frameOf(100), slotB: frameOf(101) });
/** Of the frames of this life, the one whose commit into slot A is raced; the next goes into slot B. */
const RACED = 2;

/** The memory at a commit, its writes and those of the next one, and what is right to be shown. */
function raced(module: WebAssembly.Module, slot: "a" | "b") {
  const life: Life = live(module, before, { samples: (n) => sampleOf(1, n), end: after("frame", RACED + 3) });
  const nth = RACED + (slot === "a" ? 0 : 1);
  const frames = life.operations.filter(({ kind }) => kind === "frame");
  const { writes } = life.bridge;
  const cells = before.copy();
  for (const { word, value } of writes.slice(0, frames[nth]!.from)) cells.write(word, value);
  const text = (operation: Operation) => key(operation.record!);
  const [older, newest, now, next] = frames.slice(nth - 2, nth + 2) as [Operation, Operation, Operation, Operation];
  return {
    cells,
    writes,
    now,
    next,
    texts: { older: [text(older)], before: text(newest), after: [text(now)], next: text(next) },
  };
}

function sum(races: Iterable<readonly WordWrite[]>, memory: ArrayLike<number>, right: Right): Race {
  const total: Race = { orders: 0, ways: 0, sealed: none(), withoutSeal: none() };
  let { orders, ways } = total;
  for (const writes of races) {
    const sights = sightsOf(memory, writes);
    orders++;
    ways += sights.reduce((all, sight) => all + sight.ways, 0);
    add(total.sealed, countRace(sights, right, verdictOf));
    add(total.withoutSeal, countRace(sights, right, verdictWithoutSeal));
  }
  return { ...total, orders, ways };
}

const none = (): Record<Verdict, number> => ({ "newest before": 0, "newest after": 0, older: 0, none: 0, mix: 0 });

function add(to: Record<Verdict, number>, more: Record<Verdict, number>): void {
  for (const verdict of Object.keys(to) as Verdict[]) to[verdict] += more[verdict];
}

/** One Read against one commit, in every order in which the bridge may write it. */
export function raceOneCommit(module: WebAssembly.Module, slot: "a" | "b"): Race {
  const { cells, writes, now, texts } = raced(module, slot);
  return sum(ordersOf(writes.slice(now.from, now.to)), cells.read(0, 104, "old"), texts);
}

/** One Read that lasts over a whole commit and into the next one, of which `more` writes are done. */
export function raceTwoCommits(module: WebAssembly.Module, slot: "a" | "b", more: number): Race {
  const { cells, writes, now, next, texts } = raced(module, slot);
  const both = [...writes.slice(now.from, now.to), ...writes.slice(next.from, next.from + more)];
  const right = more === next.to - next.from ? { ...texts, after: [...texts.after, texts.next] } : texts;
  return sum([both], cells.read(0, 104, "old"), right);
}
