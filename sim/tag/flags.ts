/**
 * The inventoried flags of the four sessions and SL, and how long they last (GS1 EPC Gen2, from memory: S0 is lost with power;
 * S1 lasts 0.5 to 5 s whether powered or not; S2, S3 and SL last while powered and more than 2 s without).
 */
import type { SelectTarget, Session } from "../air/command.ts";

export const S1_LASTS_US = 2_000_000;
export const UNPOWERED_LASTS_US = 5_000_000;

export class Flags {
  /** true: B. */
  readonly #inventoried = [false, false, false, false];
  #selected = false;
  #s1UntilUs = 0;
  #lostUs = Number.NEGATIVE_INFINITY;

  /** The session's flag: "B" once the tag was inventoried. */
  inventoried(session: Session, nowUs: number): "A" | "B" {
    if (session === 1 && nowUs >= this.#s1UntilUs) this.#inventoried[1] = false;
    return this.#inventoried[session] ? "B" : "A";
  }

  get selected(): boolean {
    return this.#selected;
  }

  powerLost(nowUs: number): void {
    this.#lostUs = nowUs;
    this.#inventoried[0] = false;
  }

  powerCame(nowUs: number): void {
    if (nowUs - this.#lostUs <= UNPOWERED_LASTS_US) return;
    this.#inventoried[2] = false;
    this.#inventoried[3] = false;
    this.#selected = false;
  }

  invert(session: Session, nowUs: number): void {
    this.#set(session, this.inventoried(session, nowUs) === "A", nowUs);
  }

  /** What a Select does to its target: action 0 to 7 by the standard's table. */
  select(target: SelectTarget, action: number, matching: boolean, nowUs: number): void {
    const effect = EFFECTS[action]![matching ? 0 : 1];
    if (effect === "keep") return;
    if (target === 4) {
      this.#selected = effect === "negate" ? !this.#selected : effect === "assert";
    } else if (effect === "negate") this.invert(target, nowUs);
    else this.#set(target, effect !== "assert", nowUs);
  }

  #set(session: Session, toB: boolean, nowUs: number): void {
    this.#inventoried[session] = toB;
    if (session === 1 && toB) this.#s1UntilUs = nowUs + S1_LASTS_US;
  }
}

type Effect = "assert" | "deassert" | "negate" | "keep";

/** For matching and for other tags; "assert" is SL set or the flag to A. */
const EFFECTS: readonly (readonly [Effect, Effect])[] = [
  ["assert", "deassert"],
  ["assert", "keep"],
  ["keep", "deassert"],
  ["negate", "keep"],
  ["deassert", "assert"],
  ["deassert", "keep"],
  ["keep", "assert"],
  ["keep", "negate"],
];
