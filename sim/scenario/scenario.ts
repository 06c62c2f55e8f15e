/** What a simulated scene is made of: plain data, invented. Times in the story are seconds of kit time. */
import type { Phase } from "./posture.ts";
import type { Weather } from "./weather.ts";

export interface Scenario {
  readonly name: string;
  /** One line for a list of scenarios; says that the scene is invented. */
  readonly title: string;
  /** Every random number of the simulation follows from it. */
  readonly seed: number;
  readonly phases: readonly Phase[];
  /** How long the dressing had been on at kit time 0. */
  readonly wornBeforeS: number;
  readonly weather: Weather;
  readonly barometer: BarometerTruth;
  readonly tags: readonly TagScenario[];
}

export interface BarometerTruth {
  /** Error of the kit's barometer: within the expanded uncertainty the kit states. */
  readonly offsetPa: number;
  readonly expandedUncertaintyPa: number;
  readonly noisePaRms: number;
  readonly temperatureC: number;
}

export interface TagScenario {
  /** 24 hex digits: the 96-bit EPC. */
  readonly epc: string;
  /** 48-bit serial of the chip. */
  readonly chipSerial: number;
  readonly sensorSerial: number;
  readonly accessPassword: number;
  /** Measuring point on the leg in the trade's letters, or where else the tag lies. */
  readonly site: string;
  /** Bandage layer the tag lies under, 1 next to the skin's padding; null for a tag outside the dressing. */
  readonly layer: number | null;
  /** null: nothing presses on it. */
  readonly load: LoadStory | null;
  readonly warming: Warming;
  readonly cell: CellTruth;
  readonly calibration: CalibrationRecord;
  readonly coupling: Coupling;
  /** Nominal capacitance of the store; all else of its supply is the class tag's. */
  readonly storeF: number;
  /** Sterilisation and reuse cycles so far. */
  readonly reuseCycles: number;
}

/** Sub-bandage pressure at the tag's site. */
export interface LoadStory {
  readonly restingMmHg: number;
  /** Rise from resting to standing: at B1 the static stiffness index. */
  readonly standingRiseMmHg: number;
  readonly gaitAmplitudeMmHg: number;
  /** Steps of this leg in a second. */
  readonly gaitHz: number;
  /** Share of the resting pressure lost in the end as the bandage relaxes, and how fast. */
  readonly relaxationShare: number;
  readonly relaxationTimeConstantS: number;
}

/** First-order warming of the air cell from the moment the dressing is put on. */
export interface Warming {
  readonly startC: number;
  readonly riseK: number;
  readonly timeConstantS: number;
}

/** What the sensor in its air cell really does; the calibration block is found from it. */
export interface CellTruth {
  /** Share of the load that reaches the air, at the reference temperature and a small load. */
  readonly share: number;
  /** Relative change of that share per kelvin. */
  readonly sharePerKelvin: number;
  /** Relative loss of that share per pascal of load, as wall and foam stiffen. */
  readonly stiffeningPerPa: number;
  /** Rise of the absolute pressure per kelvin at constant load. */
  readonly temperatureEffectPaPerK: number;
  readonly offsetPa: number;
  /** How far the offset has moved since the calibration: unknown to the block, covered by its uncertainty. */
  readonly driftPa: number;
  readonly noisePaRms: number;
  readonly referenceC: number;
}

/** What the bench wrote into the calibration block beside the coefficients; an invented calibration does not run out. */
export interface CalibrationRecord {
  /** A name of the specification's list of methods. */
  readonly method: string;
  /** Days since 2020-01-01. */
  readonly dateDays: number;
  readonly expandedUncertaintyPa: number;
  readonly temperatureLowC: number;
  readonly temperatureHighC: number;
  readonly spanHpa: number;
  /** Reuse cycles since this calibration. */
  readonly reuseSince: number;
  readonly reuseLimit: number;
}

/** From the kit's antenna port to the tag's chip. */
export interface Coupling {
  /** Mean gain of the path, negative. */
  readonly gainDb: number;
  /** Slow changes of it: sums of sines. */
  readonly fading: readonly { readonly amplitudeDb: number; readonly periodS: number; readonly phaseRad: number }[];
  /** Further loss while the leg walks. */
  readonly walkingLossDb: number;
  /** Power at the chip above which the tag starts. */
  readonly turnOnDbm: number;
}
