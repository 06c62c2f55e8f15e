/** The kit's carrier: how strong, on which channel, and whether it is on. */
import type { Random } from "../random.ts";
import { CHANNEL_RULES, type ChannelPlan } from "./channel-rule.ts";

/** Conducted power the kit can be set to. */
export const POWER_LOW_DBM = 0;
export const POWER_HIGH_DBM = 30;

/** Where a plan has come to. It is kept while another plan is in force, so that no plan forgets what it has used. */
interface Visit {
  /** Channels in the order in which they are visited. */
  readonly order: readonly number[];
  readonly index: number;
  readonly fromUs: number;
}

export class Transmitter {
  powerDbm = POWER_HIGH_DBM;
  readonly #random: Random;
  #inventory = false;
  #plan: ChannelPlan = "eu_lower";
  #holdUs = 0;
  readonly #visits = new Map<ChannelPlan, Visit>();
  /** Whether the carrier stands on a channel of the plan. */
  #tuned = false;

  /** The random numbers are the order of the channels. */
  constructor(random: Random) {
    this.#random = random;
  }

  get plan(): ChannelPlan {
    return this.#plan;
  }

  /** Another plan; the carrier goes off until it is tuned to it. */
  set plan(plan: ChannelPlan) {
    if (plan === this.#plan) return;
    this.#plan = plan;
    this.#tuned = false;
  }

  /** Inventory keeps the carrier on from round to round, so that tags stay powered. */
  keep(on: boolean): void {
    this.#inventory = on;
  }

  /** Conducted power at kit time `nowUs`; -Infinity while the carrier is off. */
  carrierDbm(nowUs: number): number {
    return this.isOn(nowUs) ? this.powerDbm : Number.NEGATIVE_INFINITY;
  }

  isOn(nowUs: number): boolean {
    return this.#tuned && this.isWanted(nowUs);
  }

  /** Whether the carrier is on as soon as it is tuned. */
  isWanted(nowUs: number): boolean {
    return this.#inventory || nowUs < this.#holdUs;
  }

  /** Keeps the carrier on until then at least. */
  hold(untilUs: number): void {
    this.#holdUs = Math.max(this.#holdUs, untilUs);
  }

  /** Turns the carrier off whatever asked for it. */
  off(): void {
    this.#inventory = false;
    this.#holdUs = 0;
  }

  /** The channel of the plan's latest visit; its first one before any. */
  get channelKhz(): number {
    const visit = this.#visits.get(this.#plan);
    return visit ? visit.order[visit.index]! : CHANNEL_RULES[this.#plan].channelsKhz[0]!;
  }

  /**
   * When a carrier that is on has to be tuned although nothing is said: at once when it is on no channel of the plan, else
   * before an exchange of `forUs` would no longer fit, or at the very end of a visit that must be whole.
   */
  tuneUs(forUs: number): number {
    if (!this.#tuned) return Number.NEGATIVE_INFINITY;
    return CHANNEL_RULES[this.#plan].whole ? this.#leaveUs : this.#leaveUs - forUs + 1;
  }

  /**
   * Brings the carrier to where it may be at kit time `nowUs`, on another channel if need be. Returns when an exchange of
   * `forUs` may begin: `nowUs`, or the end of the visit when it must be whole and too little of it is left; the carrier is
   * then to be tuned again at that time. Throws RangeError when no visit is so long.
   */
  tune(nowUs: number, forUs: number): number {
    const { onUs, whole } = CHANNEL_RULES[this.#plan];
    if (forUs > onUs) throw new RangeError(`an exchange of ${forUs} µs on a channel for ${onUs} µs`);
    if (nowUs >= this.#leaveUs || (!whole && nowUs + forUs > this.#leaveUs)) this.#hop(nowUs);
    this.#tuned = true;
    return nowUs + forUs > this.#leaveUs ? this.#leaveUs : nowUs;
  }

  /** When the latest visit of the plan has to be over. */
  get #leaveUs(): number {
    const visit = this.#visits.get(this.#plan);
    return visit ? visit.fromUs + CHANNEL_RULES[this.#plan].onUs : Number.NEGATIVE_INFINITY;
  }

  #hop(nowUs: number): void {
    const { channelsKhz } = CHANNEL_RULES[this.#plan];
    const { order, index } = this.#visits.get(this.#plan) ?? { order: this.#random.shuffled(channelsKhz), index: -1 };
    this.#visits.set(this.#plan, { order, index: (index + 1) % order.length, fromUs: nowUs });
  }
}
