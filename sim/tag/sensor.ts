import { Random } from "../random.ts";
import { loadPa } from "../scenario/load.ts";
import type { Scenario, TagScenario } from "../scenario/scenario.ts";
import { ambientPa } from "../scenario/weather.ts";
import { cellPressurePa, cellTemperatureC } from "./cell.ts";

/** Pressure and temperature of one conversion. */
export interface Conversion {
  readonly pressurePa: number;
  readonly temperatureC: number;
}

/** A pressure sensor as the firmware sees it. */
export interface Sensor {
  /** Starts and ends a conversion at kit time `nowUs`; null when the sensor does not answer. */
  convert(nowUs: number): Conversion | null;
}

const TEMPERATURE_NOISE_C = 0.004;

/** The sensor in the scenario's air cell. */
export class CellSensor implements Sensor {
  readonly #scenario: Scenario;
  readonly #tag: TagScenario;
  readonly #random: Random;

  constructor(scenario: Scenario, tag: TagScenario) {
    this.#scenario = scenario;
    this.#tag = tag;
    this.#random = new Random(scenario.seed, `sensor ${tag.epc}`);
  }

  convert(nowUs: number): Conversion {
    const { phases, weather, wornBeforeS } = this.#scenario;
    const { cell, load, warming } = this.#tag;
    const temperatureC = cellTemperatureC(warming, wornBeforeS, nowUs);
    const pressed = loadPa(load, phases, wornBeforeS, nowUs);
    const pressurePa = cellPressurePa(cell, ambientPa(weather, nowUs), pressed, temperatureC);
    return {
      pressurePa: pressurePa + cell.noisePaRms * this.#random.noise(),
      temperatureC: temperatureC + TEMPERATURE_NOISE_C * this.#random.noise(),
    };
  }
}
