/**
 * How a reader writes a calibration block to a tag so that a lost field leaves one copy whole: as accesses to the USER bank,
 * one at a time, for whoever can make them. Whatever fails, the whole update is begun again.
 */
import { words } from "../emitted/types.ts";
import type { CompiledRecord } from "../model/layout.ts";
import { isFault } from "./encode.ts";
import { decode } from "./record.ts";

/** One access to the USER bank; a write is of one word. */
export type Access =
  | { readonly kind: "read"; readonly word: number; readonly count: number }
  | { readonly kind: "write"; readonly word: number; readonly value: number };

/** Answer to an access: the words of a Read, none of a Write; null when it was not done. */
export type Answer = readonly number[] | null;

type Accesses = Generator<Access, boolean, Answer>;

const { calibration1, calibration2 } = words.user;
const PLACES = [calibration1.word, calibration2.word] as const;
const LENGTH = calibration1.words;

/**
 * The accesses that bring `block` (16 words, sealed) into both copies; `record` is the layout's `calibration`. Returns true
 * when both were read back, false when an access was not done or a copy did not read back as written.
 *
 * The copy that is not whole is written first, or the one that is not yet the new block, or the first. Before a copy is
 * spoiled, word 0 of the other is written once more: a write that was cut there may have left bits that read one way now
 * and another later. A copy that reads as the new block already gets no more than that.
 */
export function* updateCalibration(record: CompiledRecord, block: readonly number[]): Accesses {
  const found = yield { kind: "read", word: PLACES[0], count: 2 * LENGTH };
  if (!found) return false;
  const copies = [found.slice(0, LENGTH), found.slice(LENGTH)];
  const whole = copies.map((copy) => isWhole(record, copy));
  const done = copies.map((copy) => isSame(copy, block));
  const first = whole[0] && (!whole[1] || done[0]) ? 1 : 0;
  const other = 1 - first;
  if (whole[other] && !(yield { kind: "write", word: PLACES[other]!, value: found[other * LENGTH]! })) return false;
  if (done[first]) return (yield { kind: "write", word: PLACES[first]!, value: block[0]! }) !== null;
  return (yield* writeCopy(PLACES[first]!, block)) && (done[other] || (yield* writeCopy(PLACES[other]!, block)));
}

/** Word 0, which names the kind, is cleared first and written last, after the data, the seal and word 1. */
function* writeCopy(word: number, block: readonly number[]): Accesses {
  const order = [...block.keys()].slice(2);
  const steps = [[0, 0], ...[...order, 1, 0].map((i) => [i, block[i]!])] as const;
  for (const [i, value] of steps) {
    if (!(yield { kind: "write", word: word + i!, value: value! })) return false;
  }
  const back = yield { kind: "read", word, count: LENGTH };
  return back !== null && isSame(back, block);
}

function isSame(copy: readonly number[], block: readonly number[]): boolean {
  return copy.every((word, i) => word === block[i]);
}

function isWhole(record: CompiledRecord, copy: readonly number[]): boolean {
  return !isFault(
    decode(
      record,
      copy.flatMap((word) => [word >> 8, word & 0xff]),
    ),
  );
}
