/** From one raw pressure and temperature to absolute and gauge pressure with quality and uncertainty. */
import { type DecodedRecord, flagsOf, physicalOf, rawOf } from "../../protocol/index.ts";
import { AMBIENT_OLD_US } from "./ambient.ts";
import { type Calibration, type CalibrationChoice, chooseCalibration, judgeCalibration } from "./calibration.ts";
import {
  type AbsolutePressure,
  type Ambient,
  absoluteOf,
  combinedUncertaintyPa,
  type GaugePressure,
  gaugeOf,
  toHpa,
} from "./pressure.ts";
import type { QualityFlags, QualityId } from "./quality.ts";
import type { TagMemory } from "./tag-memory.ts";

/** What the samples of one frame or burst have in common. */
export class Conversion {
  readonly calibration: Calibration | null;
  readonly temperatureC: number | null;
  readonly #coefficients: CalibrationChoice["coefficients"];
  readonly #temperatureRaw: number | null;
  readonly #quality: QualityFlags;

  /** Adds to `quality` what status, temperature, header, calibration and counters say. */
  constructor(sample: DecodedRecord, tag: TagMemory, sessionDate: string | null, quality: QualityFlags) {
    const { tagHeader, copies, counters } = tag;
    quality.add(...(flagsOf(sample, "status") as QualityId[]));
    if (tag.headerFault) quality.add("header_unreadable");
    if (!tagHeader) quality.add("header_not_read");
    const choice = chooseCalibration(copies.calibration_1, copies.calibration_2, tagHeader?.sensorSerial ?? null);
    quality.add(...choice.quality);
    if (choice.calibration) {
      quality.add(...judgeCalibration(choice.calibration, sessionDate, counters?.reuseCycles ?? null));
    }
    this.calibration = choice.calibration;
    this.#coefficients = choice.coefficients;
    this.temperatureC = physicalOf(sample, "temperature");
    this.#temperatureRaw = this.temperatureC === null ? null : rawOf(sample, "temperature");
    this.#quality = quality;
    if (this.temperatureC === null) quality.add("temperature_not_measured");
    else if (
      this.calibration &&
      (this.temperatureC < this.calibration.temperatureLowC || this.temperatureC > this.calibration.temperatureHighC)
    ) {
      quality.add("temperature_outside_calibration");
    }
  }

  absolute(pressureRaw: number): AbsolutePressure {
    return absoluteOf(pressureRaw, this.#temperatureRaw, this.#coefficients);
  }

  gauge(pressure: AbsolutePressure, ambient: Ambient): GaugePressure | null {
    const gauge = gaugeOf(pressure, ambient, this.#temperatureRaw, this.#coefficients);
    if (gauge === null) this.#quality.add("gauge_out_of_range");
    else if (this.calibration && toHpa(gauge) > this.calibration.spanHpa) this.#quality.add("gauge_beyond_span");
    return gauge;
  }

  /** Adds what an ambient, or its absence, says of a sample first seen at `sampleUs`; returns the time between the two. */
  judgeAmbient(ambient: Ambient | null, sampleUs: number): number | null {
    if (!ambient) {
      this.#quality.add("ambient_missing");
      return null;
    }
    if (ambient.expandedUncertaintyPa === null) this.#quality.add("ambient_uncertainty_not_stated");
    if (ambient.atUs === null) return null;
    const apartUs = Math.abs(sampleUs - ambient.atUs);
    if (apartUs > AMBIENT_OLD_US) this.#quality.add("ambient_old");
    return apartUs / 1e6;
  }

  /** Expanded uncertainty of a gauge pressure; null as soon as one flag says that a contribution is not known. */
  uncertaintyPa(ambient: Ambient | null): number | null {
    const own = this.calibration?.expandedUncertaintyPa ?? null;
    const other = ambient?.expandedUncertaintyPa ?? null;
    return own === null || other === null || this.#quality.voided ? null : combinedUncertaintyPa(own, other);
  }
}
