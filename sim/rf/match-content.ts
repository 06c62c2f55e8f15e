/** A scenario of `plyframe match` as vectors/schema/match.schema.json has it. */
import type { Series } from "./preferred-values.ts";
import type { Region } from "./regulation.ts";

export type CircuitContent =
  | { readonly resistance_ohm: number }
  | { readonly inductance_nh: number }
  | { readonly capacitance_pf: number }
  | { readonly series: readonly CircuitContent[] }
  | { readonly parallel: readonly CircuitContent[] };

interface ImpedanceContent {
  readonly power_dbm?: number;
  readonly parallel_resistance_ohm?: number;
  readonly parallel_capacitance_pf?: number;
  readonly series_resistance_ohm?: number;
  readonly series_reactance_ohm?: number;
  readonly frequency_mhz?: number;
}

/** Defaults are filled in. */
export interface MatchContent {
  readonly title?: string;
  readonly antenna?: {
    readonly touchstone?: string;
    readonly table?: readonly {
      readonly frequency_mhz: number;
      readonly resistance_ohm: number;
      readonly reactance_ohm: number;
    }[];
    readonly circuit?: CircuitContent;
  };
  readonly chip: { readonly turn_on_dbm: number; readonly impedance: readonly ImpedanceContent[] };
  readonly band?: { readonly name?: Region; readonly low_mhz?: number; readonly high_mhz?: number };
  readonly inductor: {
    readonly values: Series;
    readonly lowest_nh: number;
    readonly highest_nh: number;
    readonly goal: "worst" | "mean";
    readonly q: number;
    readonly tolerance_percent: number;
    readonly self_resonance: { readonly inductance_nh: number; readonly frequency_mhz: number };
  };
  readonly tau: number;
  readonly tolerances: {
    readonly chip_resistance_percent: number;
    readonly chip_capacitance_percent: number;
    readonly antenna_resistance_percent: number;
    readonly antenna_reactance_percent: number;
    readonly trials: number;
    readonly seed: number;
  };
  readonly link: {
    readonly region?: Region;
    readonly conducted_dbm: number;
    readonly cable_loss_db: number;
    readonly antenna_gain_dbi: number;
    readonly antenna_size_m: number;
    readonly polarisation_loss_db: number;
    readonly sensitivity_dbm: number;
    readonly tag_gain_dbi: number;
    readonly reflection_difference: number;
    readonly layers: readonly Layer[];
    readonly body_loss_db: number;
    readonly duty: number;
    readonly distance_m: number;
  };
}

export interface Layer {
  readonly name: string;
  readonly layers: number;
  readonly dry_loss_db: number;
  readonly wet_loss_db: number;
}
