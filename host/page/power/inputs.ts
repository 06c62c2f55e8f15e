/** What can be changed by hand in a power budget, and the scenarios that it stands for. */
import type { Condition } from "../../../sim/index.ts";

export interface BudgetInputs {
  readonly distanceM: number;
  /** At the reader's port. */
  readonly conductedDbm: number;
  /** Of the series E24; null: the best of it, as the command chooses. */
  readonly inductorNh: number | null;
  readonly capacitanceUf: number;
  readonly periodMs: number;
  readonly dressing: Condition;
}

/** The numbers among them. */
export type Quantity = "distanceM" | "conductedDbm" | "inductorNh" | "capacitanceUf" | "periodMs";

/** As the commands have them when nothing is said; a test sees to that. */
export const usualInputs: BudgetInputs = {
  distanceM: 0.5,
  conductedDbm: 27,
  inductorNh: null,
  capacitanceUf: 100,
  periodMs: 100,
  dressing: "dry",
};

/** What may be typed, both limits included, and whether a slider goes by ratios. */
export const limits: { readonly [of in Quantity]: { low: number; high: number; digits: number; ratio: boolean } } = {
  distanceM: { low: 0.05, high: 5, digits: 2, ratio: true },
  conductedDbm: { low: 0, high: 33, digits: 1, ratio: false },
  inductorNh: { low: 1, high: 120, digits: 1, ratio: true },
  // A smaller store loses its supply thousands of times a second, which takes minutes to follow.
  capacitanceUf: { low: 10, high: 10_000, digits: 1, ratio: true },
  periodMs: { low: 10, high: 60_000, digits: 0, ratio: true },
};

/** What `plyframe budget --match FILE` takes as FILE. */
export function matchContentOf({ distanceM, conductedDbm, inductorNh }: BudgetInputs) {
  return {
    link: { distance_m: distanceM, conducted_dbm: conductedDbm },
    ...(inductorNh === null ? {} : { inductor: { lowest_nh: inductorNh, highest_nh: inductorNh } }),
  };
}

/** What `plyframe budget` takes as its scenario. */
export function budgetContentOf({ capacitanceUf, periodMs }: BudgetInputs) {
  return { store: { capacitance_uf: capacitanceUf }, firmware: { period_ms: periodMs } };
}
