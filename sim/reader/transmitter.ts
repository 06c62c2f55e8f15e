/** The kit's carrier: how strong, on which channel, and whether it is on. */
import type { Random } from "../random.ts";
import { CHANNEL_RULES, type ChannelPlan } from "./channel-rule.ts";

/** Conducted power the kit can be set to. */
export const POWER_LOW_DBM = 0;
export const POWER_HIGH_DBM = 30;

/** A stretch of time on a channel. */
interface Visit {
  readonly channelKhz: number;
  readonly fromUs: number;
  toUs: number;
}

export class Transmitter {
  powerDbm = POWER_HIGH_DBM;
  readonly #random: Random;
  #inventory = false;
  #plan: ChannelPlan = "eu_lower";
  #holdUs = 0;
  /** Order in which the channels are visited. */
  #order: readonly number[] = [];
  #visits: Visit[] = [];
  #limitUs = 0;

  /** The random numbers are the order of the channels. */
  constructor(random: Random) {
    this.#random = random;
  }

  get plan(): ChannelPlan {
    return this.#plan;
  }

  /** Another plan; the carrier leaves its channel at once. */
  set plan(plan: ChannelPlan) {
    this.#plan = plan;
    this.#order = [];
    this.#limitUs = 0;
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

  /** The channel of the latest visit. */
  get channelKhz(): number {
    return this.#visits.at(-1)?.channelKhz ?? CHANNEL_RULES[this.#plan].channelsKhz[0]!;
  }

  /** When the carrier has to leave its channel. */
  get leaveUs(): number {
    const visit = this.#visits.at(-1);
    return visit ? visit.fromUs + this.#limitUs : Number.NEGATIVE_INFINITY;
  }

  /**
   * Makes sure that the carrier may stay where it is for `forUs`, on another channel if need be. To be called before every
   * command and whenever `leaveUs` is reached while the carrier is on.
   */
  tune(nowUs: number, forUs: number): void {
    const visit = this.#visits.at(-1);
    if (visit && nowUs + forUs <= this.leaveUs) {
      visit.toUs = nowUs + forUs;
      return;
    }
    // A carrier that went off meanwhile is taken to have stayed as long as it might have.
    if (visit) visit.toUs = this.#limitUs === 0 ? nowUs : Math.min(nowUs, this.leaveUs);
    this.#hop(nowUs, forUs);
  }

  #hop(nowUs: number, forUs: number): void {
    const { channelsKhz, perUs } = CHANNEL_RULES[this.#plan];
    if (this.#order.length === 0) this.#order = this.#random.shuffled(channelsKhz);
    const remembered = Math.max(perUs, 1_000_000);
    this.#visits = this.#visits.filter(({ toUs }) => toUs > nowUs - remembered);
    // A carrier that never rests would need every channel for exactly its share: the one left longest ago is then taken early.
    const next = Math.max(
      0,
      this.#order.findIndex((channel) => this.#allowedUs(channel, nowUs) >= forUs),
    );
    const [channelKhz] = this.#order.slice(next, next + 1) as [number];
    this.#order = [...this.#order.slice(0, next), ...this.#order.slice(next + 1), channelKhz];
    this.#limitUs = Math.max(this.#allowedUs(channelKhz, nowUs), forUs);
    this.#visits.push({ channelKhz, fromUs: nowUs, toUs: nowUs + forUs });
  }

  /** How long the channel may be used from now on. */
  #allowedUs(channel: number, nowUs: number): number {
    const { onUs, perUs, restUs } = CHANNEL_RULES[this.#plan];
    let usedUs = 0;
    for (const { channelKhz, fromUs, toUs } of this.#visits) {
      if (channelKhz !== channel) continue;
      if (nowUs - toUs < restUs) return 0;
      usedUs += Math.max(0, toUs - Math.max(fromUs, nowUs - perUs));
    }
    return perUs === 0 ? onUs : onUs - usedUs;
  }
}
