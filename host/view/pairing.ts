/** Who may see the readings beyond this machine: pages that were given the code shown in the terminal. */
import { createHash, randomBytes, randomInt, timingSafeEqual } from "node:crypto";

/** Digits and capital letters without those that are mistaken for others: 30 bits in six of them. */
const ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const CODE_LENGTH = 6;

/** Wrong tries of all addresses together, after which no code is taken any more. */
export const TRIES_IN_ALL = 100;

/** An address waits after a wrong try: this long, twice as long after the next, and so on up to the longest. */
const FIRST_WAIT_S = 1;
const LONGEST_WAIT_S = 60;

/** Pages paired at a time; the oldest must be paired again. */
const PAIRED_KEPT = 32;

export type PairingAnswer =
  /** `token` is the cookie's value. */
  | { readonly kind: "paired"; readonly token: string }
  | { readonly kind: "wrong" }
  | { readonly kind: "wait"; readonly seconds: number }
  | { readonly kind: "closed" };

export class Pairing {
  /** As it is shown: two groups of three. */
  readonly code: string;
  readonly #codeHash: Buffer;
  readonly #tries = new Map<string, { count: number; nextMs: number }>();
  #wrong = 0;
  /** Hashes of the tokens in use. */
  #paired: Buffer[] = [];

  constructor() {
    const drawn = Array.from({ length: CODE_LENGTH }, () => ALPHABET[randomInt(ALPHABET.length)]!).join("");
    this.code = `${drawn.slice(0, 3)}-${drawn.slice(3)}`;
    this.#codeHash = hashOf(drawn);
  }

  /** A try from an address at a wall time in milliseconds. Case, spaces and dashes do not matter. */
  pair(typed: string, address: string, nowMs: number): PairingAnswer {
    if (this.#wrong >= TRIES_IN_ALL) return { kind: "closed" };
    const before = this.#tries.get(address);
    if (before && nowMs < before.nextMs) return { kind: "wait", seconds: Math.ceil((before.nextMs - nowMs) / 1000) };
    if (timingSafeEqual(hashOf(typed.toUpperCase().replace(/[\s-]/g, "")), this.#codeHash)) {
      this.#tries.delete(address);
      const token = randomBytes(32).toString("hex");
      this.#paired = [...this.#paired, hashOf(token)].slice(-PAIRED_KEPT);
      return { kind: "paired", token };
    }
    this.#wrong++;
    const count = (before?.count ?? 0) + 1;
    const waitS = Math.min(LONGEST_WAIT_S, FIRST_WAIT_S * 2 ** (count - 1));
    this.#tries.set(address, { count, nextMs: nowMs + waitS * 1000 });
    return { kind: "wrong" };
  }

  /** Whether a cookie's value is one that was given. */
  isPaired(token: string | null): boolean {
    if (token === null) return false;
    const hash = hashOf(token);
    // Every one is compared, so that the time taken says nothing.
    return this.#paired.filter((paired) => timingSafeEqual(paired, hash)).length > 0;
  }
}

function hashOf(text: string): Buffer {
  return createHash("sha256").update(text).digest();
}
