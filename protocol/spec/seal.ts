/** What every sealed record has at the same place, in every layout: its kind, its layout and its seal. */
import type { ChecksumField, ConstantField, ContainerBits } from "../model/vocabulary.ts";

/** The layout this specification describes; a change of place or meaning raises it. */
export const LAYOUT = 1;

/** Kinds of sealed record. 0 and 15 are never used: they are what empty and erased memory look like. */
export const kinds = { header: 1, frame: 2, counters: 3, calibration: 4, burst: 5 } as const;

export function kindField(
  at: number,
  container: ContainerBits,
  bits: readonly [number, number],
  kind: keyof typeof kinds,
): ConstantField {
  return {
    id: "kind",
    type: "constant",
    role: "kind",
    at,
    container,
    bits,
    raw: kinds[kind],
    coldStart: "kept",
    why: "Tells a record of one kind from another, so that a Read at the wrong word is named.",
  };
}

export function layoutField(at: number, container: ContainerBits, bits: readonly [number, number]): ConstantField {
  return {
    id: "layout",
    type: "constant",
    role: "layout",
    at,
    container,
    bits,
    raw: LAYOUT,
    coldStart: "kept",
    why: "Names the layout the record was written with; the same place in every layout.",
  };
}

/** The seal of a record of `bytes` bytes: its last word, over all words before it. */
export function sealField(bytes: number): ChecksumField {
  return {
    id: "seal",
    type: "checksum",
    algorithm: "seal",
    at: bytes - 2,
    container: 16,
    bits: [15, 0],
    over: [0, bytes - 3],
    coldStart: "computed",
    why: "A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one.",
  };
}
