import { Random } from "../random.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { ambientPa } from "../scenario/weather.ts";

/** The kit's barometer: ambient pressure with a constant error and noise. */
export class Barometer {
  readonly #scenario: Scenario;
  readonly #random: Random;

  constructor(scenario: Scenario) {
    this.#scenario = scenario;
    this.#random = new Random(scenario.seed, "barometer");
  }

  /** Absolute pressure in pascal and temperature in °C at kit time `nowUs`. */
  measure(nowUs: number): { readonly pressurePa: number; readonly temperatureC: number } {
    const { offsetPa, noisePaRms, temperatureC } = this.#scenario.barometer;
    const pressurePa = ambientPa(this.#scenario.weather, nowUs) + offsetPa + noisePaRms * this.#random.noise();
    return { pressurePa, temperatureC };
  }
}
