/** Inventory rounds: every tag that answers is reported, with one Read when words were asked for. */
import type { Random } from "../random.ts";
import type { Identity } from "../tag/memory.ts";
import type { AccessResult, Tag } from "../tag/tag.ts";
import type { Transmitter } from "./transmitter.ts";

export interface InventorySettings {
  readonly periodUs: number;
  readonly bank: number;
  readonly word: number;
  /** Words of the Read; 0 for none. */
  readonly count: number;
}

/** One tag seen in one round. */
export interface Sighting {
  readonly timeUs: number;
  readonly identity: Identity;
  readonly rssiDbm: number;
  readonly frequencyKhz: number;
  /** null: no Read was asked for. */
  readonly access: AccessResult | null;
  readonly settings: InventorySettings;
}

/** A slot with a tag in it: reply, EPC and a Read of 32 words at a middling data rate. */
const SLOT_US = 5_000;

export class Inventory {
  readonly #tags: readonly Tag[];
  readonly #transmitter: Transmitter;
  readonly #random: Random;
  #settings: InventorySettings | null = null;
  #roundUs = Number.POSITIVE_INFINITY;
  #slots: { readonly timeUs: number; readonly tag: Tag }[] = [];
  #frequencyKhz = 0;

  constructor(tags: readonly Tag[], transmitter: Transmitter, random: Random) {
    this.#tags = tags;
    this.#transmitter = transmitter;
    this.#random = random;
  }

  /** Time of the next thing to do; Infinity when there is none. */
  get nextUs(): number {
    return this.#slots[0]?.timeUs ?? this.#roundUs;
  }

  /** Begins rounds, the first at `firstUs`; rounds under way are given up. */
  start(firstUs: number, settings: InventorySettings): void {
    this.#settings = settings;
    this.#slots = [];
    this.#roundUs = firstUs;
  }

  stop(): void {
    this.#settings = null;
    this.#slots = [];
    this.#roundUs = Number.POSITIVE_INFINITY;
  }

  /** Does what is due at `nextUs`: begins a round, or reads the tag of the next slot, which is a sighting if it answers. */
  run(): Sighting | null {
    const settings = this.#settings!;
    const slot = this.#slots.shift();
    if (!slot) {
      const startUs = this.#roundUs;
      this.#frequencyKhz = this.#transmitter.hopKhz(this.#random);
      this.#slots = this.#random
        .shuffled(this.#tags)
        .map((tag, index) => ({ tag, timeUs: startUs + (index + 1) * SLOT_US }));
      this.#roundUs = startUs + Math.max(settings.periodUs, (this.#slots.length + 1) * SLOT_US);
      return null;
    }
    const { tag, timeUs } = slot;
    const identity = tag.inventory(timeUs);
    if (!identity) return null;
    const { bank, word, count } = settings;
    const access = count === 0 ? null : tag.access(timeUs, { kind: "read", bank, word, count }, 0);
    return {
      timeUs,
      identity,
      rssiDbm: tag.rssiDbm(timeUs),
      frequencyKhz: this.#frequencyKhz,
      access,
      settings,
    };
  }
}
