/** Where the ambient pressure of a session comes from, and the latest one known. */
import type { AmbientReport } from "../reader/report.ts";
import { type AbsolutePressure, type Ambient, ambientOfTag, measuredAmbient, stepsOf } from "./pressure.ts";

export type AmbientSource =
  | { readonly kind: "kit_barometer" }
  /** A tag outside the dressing, by its EPC in hex. */
  | { readonly kind: "outside_tag"; readonly epc: string }
  /** `expandedUncertaintyPa` (k = 2) null: not stated. */
  | { readonly kind: "typed"; readonly pressurePa: number; readonly expandedUncertaintyPa: number | null }
  | { readonly kind: "none" };

/** An ambient further than this from a sample in time is marked as old. */
export const AMBIENT_OLD_US = 60_000_000;

/** The latest ambient of the source chosen. Throws a RangeError for a typed value outside 260 to 1260 hPa. */
export class AmbientTracker {
  readonly #source: AmbientSource;
  readonly #barometerUncertaintyPa: number | null;
  #latest: Ambient | null = null;

  constructor(source: AmbientSource, barometerUncertaintyPa: number | null) {
    this.#source = source;
    this.#barometerUncertaintyPa = barometerUncertaintyPa;
    if (source.kind !== "typed") return;
    const { pressurePa, expandedUncertaintyPa } = source;
    if (!(pressurePa >= 26_000 && pressurePa <= 126_000)) {
      throw new RangeError(`an ambient pressure of ${pressurePa / 100} hPa is outside 260 to 1260 hPa`);
    }
    if (expandedUncertaintyPa !== null && !(expandedUncertaintyPa >= 0)) {
      throw new RangeError(`an expanded uncertainty of ${expandedUncertaintyPa} Pa cannot be`);
    }
    this.#latest = measuredAmbient(stepsOf(pressurePa), "typed", expandedUncertaintyPa, null);
  }

  get latest(): Ambient | null {
    return this.#latest;
  }

  isTag(epc: string): boolean {
    return this.#source.kind === "outside_tag" && this.#source.epc.toLowerCase() === epc.toLowerCase();
  }

  fromKit(report: AmbientReport): void {
    if (this.#source.kind !== "kit_barometer") return;
    this.#latest = measuredAmbient(report.pressureRaw, "kit_barometer", this.#barometerUncertaintyPa, report.kitTimeUs);
  }

  /** For the tag of which `isTag` is true. */
  fromTag(pressure: AbsolutePressure, expandedUncertaintyPa: number | null, atUs: number): void {
    this.#latest = ambientOfTag(pressure, expandedUncertaintyPa, atUs);
  }
}
