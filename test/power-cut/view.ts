/** What a reader gets from a memory: by the decoders of the specification and the host's rules of choice. */
import { chooseSlot } from "../../protocol/codec/slots.ts";
import { layout } from "../../protocol/index.ts";
import { recordOf } from "../../protocol/model/layout.ts";
import type { Cells, Reading } from "../../sim/bridge/cells.ts";
import { toBytes } from "../../sim/tag/words.ts";
import { type RecordId, rawsIn } from "./life.ts";

/** Words of a record as a string of one character a word: quick to compare; null when there is none to be had. */
export type Packed = string | null;

export interface View {
  readonly frame: Packed;
  readonly counters: Packed;
  readonly calibration: Packed;
  readonly burst: Packed;
}
export const kinds = ["frame", "counters", "calibration", "burst"] as const;

export function packed(words: ArrayLike<number>): string {
  return String.fromCharCode(...Array.from(words));
}

export function unpacked(text: string): number[] {
  return Array.from(text, (char) => char.charCodeAt(0));
}

const frameRecord = recordOf(layout, "frame");
const memory = new Map<string, unknown>();

/** The answer for these words, worked out once. */
function remembered<T>(about: string, text: string, work: () => T): T {
  const key = about + text;
  if (memory.has(key)) return memory.get(key) as T;
  if (memory.size > 400_000) memory.clear();
  const answer = work();
  memory.set(key, answer);
  return answer;
}

/** Raw values of a record, null when it is not whole. */
export function raws(kind: RecordId, text: string): Readonly<Record<string, number>> | null {
  return remembered(kind, text, () => rawsIn(kind, unpacked(text)));
}

/** "empty": never written; "torn": neither empty nor whole. */
export function stateOf(kind: RecordId, text: string): "whole" | "empty" | "torn" {
  if (raws(kind, text)) return "whole";
  return [...text].every((char) => char === "\0") ? "empty" : "torn";
}

function newestFrame(slots: string): Packed {
  const { slot } = chooseSlot(frameRecord, toBytes(unpacked(slots)), 0, 16);
  return slot === null ? null : slots.slice(slot === "a" ? 0 : 8, slot === "a" ? 8 : 16);
}

const COUNTS = ["cold_starts", "frames", "brown_outs", "fruitless_starts"];

function newerCounters(copies: string): Packed {
  const [a, b] = [copies.slice(0, 8), copies.slice(8)];
  const [rawsA, rawsB] = [raws("counters", a), raws("counters", b)];
  if (!rawsA || !rawsB) return rawsA ? a : rawsB ? b : null;
  const differing = COUNTS.find((id) => rawsA[id] !== rawsB[id]);
  return differing === undefined || rawsA[differing]! > rawsB[differing]! ? a : b;
}

function firstWholeCalibration(copies: string): Packed {
  const found = [copies.slice(0, 16), copies.slice(16)].find((copy) => raws("calibration", copy));
  return found ?? null;
}

/** What a reader gets when bits in doubt read this way. */
export function viewOf(cells: Cells, reading: Reading): View {
  const at = (word: number, count: number) => packed(cells.read(word, count, reading));
  const [slots, counters, calibration, burst] = [at(8, 16), at(24, 16), at(40, 32), at(72, 32)];
  return {
    frame: remembered("newest frame", slots, () => newestFrame(slots)),
    counters: remembered("newer counters", counters, () => newerCounters(counters)),
    calibration: remembered("first calibration", calibration, () => firstWholeCalibration(calibration)),
    burst: raws("burst", burst) ? burst : null,
  };
}
