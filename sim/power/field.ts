/** Level at the chip over time, as steps: the reader's hops, the tag's own replies and the hand that holds the reader. */
export interface FieldDesign {
  /** Level at the chip while the reader transmits and nothing else is going on. */
  readonly powerDbm: number;
  /** The reader transmits for `dwellS` and is silent for `hopS`, again and again; `hopS` 0: it never is. */
  readonly dwellS: number;
  readonly hopS: number;
  /** Every `roundS` the tag answers for `replyS`, and of the power only `1 - replyDepth` reaches the rectifier. */
  readonly roundS: number;
  readonly replyS: number;
  readonly replyDepth: number;
  /** The hand moves the level up and down by this, in a sine of this period followed in steps. */
  readonly handDb: number;
  readonly handPeriodS: number;
}

/** Steps of the hand in a period. */
const HAND_STEPS = 24;

/** A train of alternating times, its edges counted so that they do not drift. */
interface Train {
  readonly periodS: number;
  /** Length of the first part; the second one fills the period. */
  readonly firstS: number;
  edges: number;
}

export class Field {
  readonly #design: FieldDesign;
  readonly #hops: Train | null;
  readonly #replies: Train | null;
  #handSteps = 0;
  #levelDbm = 0;
  #untilS = 0;

  constructor(design: FieldDesign) {
    this.#design = design;
    const { dwellS, hopS, roundS, replyS, replyDepth } = design;
    this.#hops = hopS > 0 ? { periodS: dwellS + hopS, firstS: dwellS, edges: 0 } : null;
    // The quiet part of the round comes first: the reader asks before the tag answers.
    this.#replies = replyS > 0 && replyDepth > 0 ? { periodS: roundS, firstS: roundS - replyS, edges: 0 } : null;
    this.#settle();
  }

  /** Level at the chip in dBm, up to `untilS`. */
  get levelDbm(): number {
    return this.#levelDbm;
  }

  /** When the level changes next; Infinity: never. */
  get untilS(): number {
    return this.#untilS;
  }

  /** Whether the level never changes. */
  get steady(): boolean {
    return !this.#hops && !this.#replies && this.#design.handDb === 0;
  }

  /** Goes on to the time of the next change. */
  step(): void {
    const nowS = this.#untilS;
    if (this.#hops && edgeS(this.#hops) <= nowS) this.#hops.edges++;
    if (this.#replies && edgeS(this.#replies) <= nowS) this.#replies.edges++;
    if (this.#handS() <= nowS) this.#handSteps++;
    this.#settle();
  }

  #settle(): void {
    const { powerDbm, replyDepth, handDb } = this.#design;
    const silent = this.#hops !== null && this.#hops.edges % 2 === 1;
    const replying = this.#replies !== null && this.#replies.edges % 2 === 1;
    const hand = handDb * Math.sin((2 * Math.PI * (this.#handSteps + 0.5)) / HAND_STEPS);
    this.#levelDbm =
      silent || (replying && replyDepth === 1)
        ? Number.NEGATIVE_INFINITY
        : powerDbm + hand + (replying ? 10 * Math.log10(1 - replyDepth) : 0);
    this.#untilS = Math.min(
      this.#hops ? edgeS(this.#hops) : Number.POSITIVE_INFINITY,
      this.#replies ? edgeS(this.#replies) : Number.POSITIVE_INFINITY,
      this.#handS(),
    );
  }

  #handS(): number {
    const { handDb, handPeriodS } = this.#design;
    return handDb === 0 ? Number.POSITIVE_INFINITY : ((this.#handSteps + 1) * handPeriodS) / HAND_STEPS;
  }
}

/** Time of a train's next edge. */
function edgeS({ periodS, firstS, edges }: Train): number {
  const period = Math.floor(edges / 2);
  return period * periodS + (edges % 2 === 0 ? firstS : periodS);
}
