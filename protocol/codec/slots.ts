/** Which of the two slots holds the newest whole frame, by serial-number arithmetic (RFC 1982, SERIAL_BITS = 16). */

import type { CompiledRecord } from "../model/layout.ts";
import type { Fault } from "../model/reasons.ts";
import { isFault } from "./encode.ts";
import { type DecodedRecord, decode, rawOf } from "./record.ts";

const HALF = 0x8000;

/** 1 when serial `a` is after `b`, -1 when before, 0 when equal, null when RFC 1982 leaves the order undefined. */
export function compareSerial(a: number, b: number): 1 | -1 | 0 | null {
  const distance = (a - b) & 0xffff;
  if (distance === 0) return 0;
  if (distance === HALF) return null;
  return distance < HALF ? 1 : -1;
}

export type Slot = "a" | "b";

/** What was noticed on the way, beside the choice itself. */
export type SlotNote =
  | "slot-a-bad"
  | "slot-b-bad"
  | "slot-a-empty"
  | "slot-b-empty"
  | "slots-identical"
  | "sequence-gap";

export interface SlotChoice {
  /** The chosen slot, or null with `fault` saying why there is none. */
  readonly slot: Slot | null;
  readonly frame: DecodedRecord | null;
  readonly fault: Fault | null;
  readonly notes: readonly SlotNote[];
  /** Why each slot was not whole; null for a whole one. */
  readonly faults: { readonly a: Fault | null; readonly b: Fault | null };
}

/**
 * Chooses between slot A at `bytes[atA]` and slot B at `bytes[atB]`.
 * Two whole frames that cannot be ordered (equal sequence with different bytes, or half the number circle apart) are a
 * contradiction, and no frame is chosen.
 */
export function chooseSlot(frame: CompiledRecord, bytes: ArrayLike<number>, atA: number, atB: number): SlotChoice {
  const a = decode(frame, bytes, atA, Math.min(atA + frame.bytes, bytes.length));
  const b = decode(frame, bytes, atB, Math.min(atB + frame.bytes, bytes.length));
  const faults = { a: isFault(a) ? a : null, b: isFault(b) ? b : null };
  const notes: SlotNote[] = [];
  if (isFault(a)) notes.push(a.code === "record-empty" ? "slot-a-empty" : "slot-a-bad");
  if (isFault(b)) notes.push(b.code === "record-empty" ? "slot-b-empty" : "slot-b-bad");
  if (isFault(a) && isFault(b)) {
    const actual = `${a.code}, ${b.code}`;
    const fault: Fault = {
      code: "slots-both-bad",
      byte: atA,
      bit: null,
      path: "slots",
      expected: "one whole frame",
      actual,
    };
    return { slot: null, frame: null, fault, notes, faults };
  }
  if (isFault(a)) return { slot: "b", frame: b as DecodedRecord, fault: null, notes, faults };
  if (isFault(b)) return { slot: "a", frame: a, fault: null, notes, faults };

  const [sequenceA, sequenceB] = [rawOf(a, "sequence"), rawOf(b, "sequence")];
  const order = compareSerial(sequenceA, sequenceB);
  if (order === null || (order === 0 && !equalBytes(bytes, atA, atB, frame.bytes))) {
    const fault: Fault = {
      code: "slots-contradict",
      byte: atB,
      bit: null,
      path: "slots",
      expected: "sequences that can be ordered",
      actual: `${sequenceA} and ${sequenceB}`,
    };
    return { slot: null, frame: null, fault, notes, faults };
  }
  if (order === 0) notes.push("slots-identical");
  else if (((sequenceA - sequenceB) & 0xffff) !== 1 && ((sequenceB - sequenceA) & 0xffff) !== 1)
    notes.push("sequence-gap");
  return order >= 0
    ? { slot: "a", frame: a, fault: null, notes, faults }
    : { slot: "b", frame: b, fault: null, notes, faults };
}

function equalBytes(bytes: ArrayLike<number>, a: number, b: number, length: number): boolean {
  for (let i = 0; i < length; i++) if (bytes[a + i] !== bytes[b + i]) return false;
  return true;
}
