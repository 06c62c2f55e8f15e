/** Accesses that the host asked for, one after the other. */
import type { Access, AccessResult, Tag } from "../tag/tag.ts";
import type { Transmitter } from "./transmitter.ts";

export interface AccessOrder {
  readonly request: number;
  readonly epc: readonly number[];
  readonly password: number;
  readonly access: Access;
}

export interface AccessOutcome {
  readonly request: number;
  readonly timeUs: number;
  readonly result: AccessResult;
}

/** From the carrier's coming until tags are looked for: they have to charge and to start. */
export const SETTLE_US = 100_000;
/** Singulation and one Read. */
const READ_US = 8_000;
/** Gen2 allows a tag 20 ms for a Write, BlockWrite or Lock (from memory). */
const WRITE_US = 20_000;
/** The carrier stays this long after the last access, so that the next one finds the tag awake. */
const LINGER_US = 1_000_000;

export class AccessQueue {
  readonly #tags: readonly Tag[];
  readonly #transmitter: Transmitter;
  #waiting: { readonly order: AccessOrder; readonly dueUs: number }[] = [];

  constructor(tags: readonly Tag[], transmitter: Transmitter) {
    this.#tags = tags;
    this.#transmitter = transmitter;
  }

  get length(): number {
    return this.#waiting.length;
  }

  /** Time of the next access; Infinity when none waits. */
  get nextUs(): number {
    return this.#waiting[0]?.dueUs ?? Number.POSITIVE_INFINITY;
  }

  add(nowUs: number, order: AccessOrder): void {
    const awake = this.#transmitter.carrierDbm(nowUs) > Number.NEGATIVE_INFINITY;
    const startUs = Math.max(awake ? nowUs : nowUs + SETTLE_US, this.#waiting.at(-1)?.dueUs ?? 0);
    const dueUs = startUs + durationUs(order.access);
    this.#waiting.push({ order, dueUs });
    this.#transmitter.hold(dueUs + LINGER_US);
  }

  clear(): void {
    this.#waiting = [];
  }

  /** Carries out the access that is due at `nextUs`. */
  run(): AccessOutcome {
    const { order, dueUs } = this.#waiting.shift()!;
    const tag = this.#tags.find((candidate) => candidate.hasEpc(order.epc));
    const result: AccessResult = tag
      ? tag.access(dueUs, order.access, order.password)
      : { result: "tag_lost", words: [] };
    return { request: order.request, timeUs: dueUs, result };
  }
}

function durationUs(access: Access): number {
  if (access.kind === "read") return READ_US;
  return access.kind === "write" ? WRITE_US * access.words.length : WRITE_US;
}
