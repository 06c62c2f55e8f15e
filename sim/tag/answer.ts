import type { Bits } from "../air/bits.ts";

/** Something a chip does at a moment while it carries a command out: a word fetched as it is sent, a word that is written. */
export interface Step {
  readonly atUs: number;
  run(): void;
}

/** What a chip does about a command: steps in order of time, then a reply. */
export interface Answer {
  readonly steps: readonly Step[];
  /** When the reply begins, its preamble included. */
  readonly startUs: number;
  /** The reply has the long preamble of a delayed one. */
  readonly delayed: boolean;
  /** The reply once all steps are done; null when the chip lost power over them. */
  bits(): Bits | null;
}
