/** Commands of the GS1 EPC Gen2 air interface, from memory of its version 2; layouts in encode-command.ts. */
import type { Bits } from "./bits.ts";

/** 0 to 3: S0 to S3. */
export type Session = 0 | 1 | 2 | 3;

/** Whose flag a Select sets: an inventoried flag by its session, or SL. */
export type SelectTarget = Session | 4;
export const SL: SelectTarget = 4;

export interface Select {
  readonly kind: "select";
  readonly target: SelectTarget;
  /** 0 to 7. */
  readonly action: number;
  readonly bank: number;
  /** First bit compared. */
  readonly pointer: number;
  readonly mask: Bits;
  readonly truncate: boolean;
}

export interface Query {
  readonly kind: "query";
  /** Divide ratio: 0 is 8, 1 is 64/3. */
  readonly dr: 0 | 1;
  /** Symbols of the reply: FM0, then Miller with 2, 4 and 8 cycles. */
  readonly m: 0 | 1 | 2 | 3;
  readonly trext: boolean;
  /** 0 and 1: all tags; 2: those without SL; 3: those with SL. */
  readonly sel: 0 | 1 | 2 | 3;
  readonly session: Session;
  readonly target: "A" | "B";
  /** 0 to 15: the round has 2^q slots. */
  readonly q: number;
}

/** A range of words of a tag that has given its handle. */
interface OnWords {
  readonly bank: number;
  readonly word: number;
  readonly handle: number;
}

export type Command =
  | Select
  | Query
  | { readonly kind: "query_rep"; readonly session: Session }
  | { readonly kind: "query_adjust"; readonly session: Session; readonly change: 1 | 0 | -1 }
  | { readonly kind: "ack"; readonly rn: number }
  | { readonly kind: "nak" }
  | { readonly kind: "req_rn"; readonly rn: number }
  | ({ readonly kind: "read"; readonly count: number } & OnWords)
  /** `covered`: the word XORed with the RN16 that the tag gave for it. */
  | ({ readonly kind: "write"; readonly covered: number } & OnWords)
  | ({ readonly kind: "block_write"; readonly words: readonly number[] } & OnWords)
  | ({ readonly kind: "block_erase"; readonly count: number } & OnWords)
  /** `mask` null reads the state of the blocks; else it is one word for every sixteen blocks. */
  | {
      readonly kind: "block_permalock";
      readonly bank: number;
      readonly block: number;
      readonly range: number;
      readonly mask: readonly number[] | null;
      readonly handle: number;
    }
  | { readonly kind: "lock"; readonly mask: number; readonly action: number; readonly handle: number }
  /** Half a password, the upper half first, XORed with the RN16 that the tag gave for it. */
  | { readonly kind: "access" | "kill"; readonly covered: number; readonly handle: number };

/** Cover coding, both ways. */
export function cover(half: number, rn: number): number {
  return half ^ rn;
}
