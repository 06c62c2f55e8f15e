/**
 * Gen2 lock state: two bits for each of five areas, in the order and at the places of the Lock command's action half
 * (the bits and their meaning: GS1 EPC Gen2, from memory).
 */
import type { BankSpec } from "../../protocol/model/vocabulary.ts";

export type Area = "kill" | "access" | "epc" | "tid" | "user";

const SHIFT: Record<Area, number> = { kill: 8, access: 6, epc: 4, tid: 2, user: 0 };
const AREAS = Object.keys(SHIFT) as Area[];
const PASSWORD = 0b10;
const PERMANENT = 0b01;

export class Locks {
  #state: number;

  /** `state`: ten bits, one pair an area. */
  constructor(state: number) {
    this.#state = state;
  }

  /** The ten bits. */
  get state(): number {
    return this.#state;
  }

  /** Whether the area may be written, and a password area read, by a reader that is secured or not. */
  allows(area: Area, secured: boolean): boolean {
    const pair = this.#pair(area);
    if (!(pair & PASSWORD)) return true;
    return pair & PERMANENT ? false : secured;
  }

  /** Applies a Lock payload; false, and nothing changed, when it would alter a permanent area. */
  apply(mask: number, action: number): boolean {
    const next = (this.#state & ~mask) | (action & mask);
    const broken = AREAS.some(
      (area) => this.#pair(area) & PERMANENT && ((next ^ this.#state) >> SHIFT[area]) & (PASSWORD | PERMANENT),
    );
    if (broken) return false;
    this.#state = next;
    return true;
  }

  #pair(area: Area): number {
    return (this.#state >> SHIFT[area]) & 0b11;
  }
}

const AREAS_OF_BANK: readonly (readonly Area[])[] = [["kill", "access"], ["epc"], ["tid"], ["user"]];

/** The area of a word: bank 00 holds two passwords, every other bank is one area. */
export function areaOf(bank: number, word: number): Area {
  return bank === 0 && word >= 2 ? "access" : AREAS_OF_BANK[bank]![0]!;
}

/** The lock state in service that the specification asks for. */
export function locksInService(banks: readonly BankSpec[]): Locks {
  let state = 0;
  for (const { number, regions } of banks) {
    for (const { lock } of regions) {
      const pair = lock === "permanent" ? PASSWORD | PERMANENT : lock.startsWith("password") ? PASSWORD : 0;
      for (const area of AREAS_OF_BANK[number]!) state |= pair << SHIFT[area];
    }
  }
  return new Locks(state);
}
