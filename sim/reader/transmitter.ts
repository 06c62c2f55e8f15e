/** The kit's carrier: how strong, on which channels, and whether it is on. */
import type { Random } from "../random.ts";

/** Conducted power the kit can be set to. */
export const POWER_LOW_DBM = 0;
export const POWER_HIGH_DBM = 30;

export type ChannelPlan = "eu_lower" | "eu_upper";

/** Carrier frequencies in kHz: the high-power channels of ETSI EN 302 208, 200 kHz and 400 kHz wide (from memory). */
export const CHANNELS_KHZ: Readonly<Record<ChannelPlan, readonly number[]>> = {
  eu_lower: [865_700, 866_300, 866_900, 867_500],
  eu_upper: [916_300, 917_500, 918_700, 919_900],
};

/** Whether this kit has the plan. */
export function isChannelPlan(plan: string): plan is ChannelPlan {
  return Object.hasOwn(CHANNELS_KHZ, plan);
}

export class Transmitter {
  powerDbm = POWER_HIGH_DBM;
  plan: ChannelPlan = "eu_lower";
  /** Inventory keeps the carrier on from round to round, so that tags stay powered. */
  inventory = false;
  #holdUs = 0;

  /** Conducted power at kit time `nowUs`; -Infinity while the carrier is off. */
  carrierDbm(nowUs: number): number {
    return this.inventory || nowUs < this.#holdUs ? this.powerDbm : Number.NEGATIVE_INFINITY;
  }

  /** Keeps the carrier on until then at least. */
  hold(untilUs: number): void {
    this.#holdUs = Math.max(this.#holdUs, untilUs);
  }

  /** Turns the carrier off whatever asked for it. */
  off(): void {
    this.inventory = false;
    this.#holdUs = 0;
  }

  /** A channel of the plan, anew for every round. */
  hopKhz(random: Random): number {
    const channels = CHANNELS_KHZ[this.plan];
    return channels[Math.floor(random.fraction() * channels.length)]!;
  }
}
