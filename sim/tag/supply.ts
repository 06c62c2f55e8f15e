/** "off": nothing runs and RAM is lost; "held": the store keeps RAM and little more, and the chip is silent; "on": all runs. */
export type SupplyState = "off" | "held" | "on";

/** Where the firmware's power comes from. */
export interface Supply {
  /** Goes on to kit time `nowUs` with this power at the chip; -Infinity is no field at all. */
  step(nowUs: number, chipDbm: number): SupplyState;
  /** Supply voltage at the last step. */
  readonly volts: number;
}

/** Time from the field's coming to the first instruction when the store is empty. */
const CHARGE_US = 50_000;
/** How long the store keeps RAM after the field fell too low. */
const HOLD_US = 300_000;
/** How far the power may fall below the turn-on power before the chip falls silent. */
const HYSTERESIS_DB = 1;

/** Stand-in for a power budget: thresholds of the power at the chip, one charging time and one holding time. */
export class ThresholdSupply implements Supply {
  readonly #turnOnDbm: number;
  #state: SupplyState = "off";
  #sinceUs: number | null = null;
  #volts = 0;

  constructor(turnOnDbm: number) {
    this.#turnOnDbm = turnOnDbm;
  }

  get volts(): number {
    return this.#volts;
  }

  step(nowUs: number, chipDbm: number): SupplyState {
    const marginDb = chipDbm - this.#turnOnDbm;
    // A regulator's shape, no measurement: 1.95 V at the turn-on power, 0.16 V a decibel, clamped at 3 V. So what is held
    // lies below the 1.8 V that the firmware works with.
    this.#volts = Math.min(3, Math.max(0, 1.95 + 0.16 * marginDb));
    switch (this.#state) {
      case "off":
        this.#sinceUs = marginDb < 0 ? null : (this.#sinceUs ?? nowUs);
        if (this.#sinceUs !== null && nowUs - this.#sinceUs >= CHARGE_US) this.#go("on", nowUs);
        break;
      case "on":
        if (marginDb < -HYSTERESIS_DB) this.#go("held", nowUs);
        break;
      case "held":
        if (marginDb >= 0) this.#go("on", nowUs);
        else if (nowUs - this.#sinceUs! >= HOLD_US) this.#go("off", null);
    }
    return this.#state;
  }

  #go(state: SupplyState, sinceUs: number | null): void {
    this.#state = state;
    this.#sinceUs = sinceUs;
  }
}
