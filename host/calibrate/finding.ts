/** What is wrong with a bench run, or worth knowing about it: a closed list of codes, each with its place. */

/** What follows from a finding. */
export type Consequence =
  /** Nothing can be fitted. */
  | "stops"
  /** The row is left out; the rest goes on. */
  | "row_left_out"
  /** The result stands, with this to be known about it. */
  | "warns";

export const findingCodes = {
  "file-empty": { follows: "stops", says: "no row of numbers at all" },
  "column-missing": { follows: "stops", says: "a column that must be there is not" },
  "column-repeated": { follows: "stops", says: "the column stands more than once" },
  "column-unknown": { follows: "warns", says: "a column that is not known; it is not used" },
  "columns-reversed": { follows: "stops", says: "two columns seem to have changed places" },
  "units-mixed-columns": { follows: "stops", says: "the same quantity stands in two columns" },
  "unit-mixed": { follows: "row_left_out", says: "a value in another unit than its column" },
  "cells-wrong": { follows: "row_left_out", says: "not as many cells as columns" },
  "cell-missing": { follows: "row_left_out", says: "an empty cell where a value must stand" },
  "cell-invalid": { follows: "row_left_out", says: "a cell whose value is not of its kind" },
  "value-out-of-range": { follows: "row_left_out", says: "a value that cannot be" },
  "time-duplicated": { follows: "row_left_out", says: "the time of an earlier row" },
  "time-backwards": { follows: "warns", says: "a time before that of the row above" },
  "direction-contradicts": { follows: "warns", says: "the direction named is not the one the load went" },
  "direction-inferred": { follows: "warns", says: "no directions given: they were taken from the order of the rows" },
  "row-outlying": { follows: "warns", says: "far from what the other rows say; it was kept" },
  "points-missing": { follows: "stops", says: "no point to fit" },
  "points-too-few": { follows: "warns", says: "too few points for a residual: no uncertainty can be given" },
  "one-pressure-only": { follows: "warns", says: "one pressure only: the offset was fitted, the gain is as designed" },
  "one-direction-only": { follows: "warns", says: "no pressure was reached both ways: hysteresis is not known" },
  "no-replicates": {
    follows: "warns",
    says: "no pressure was reached twice the same way: repeatability is the residuals'",
  },
  "zero-not-covered": { follows: "warns", says: "no point near zero: the offset is extrapolated" },
  "temperature-missing": { follows: "warns", says: "no temperatures: nothing is known of the temperature's effect" },
  "temperature-not-covered": { follows: "warns", says: "the temperature range of use was not covered" },
  "terms-confounded": { follows: "warns", says: "two coefficients cannot be told apart well" },
  "fit-lacking": { follows: "warns", says: "the model misses the data by more than their scatter" },
  "contribution-unknown": { follows: "warns", says: "a contribution is not known: no expanded uncertainty is stated" },
  "block-range": { follows: "warns", says: "a value does not fit its field: no block can be made" },
} as const satisfies Record<string, { follows: Consequence; says: string }>;

export type FindingCode = keyof typeof findingCodes;

export interface Finding {
  readonly code: FindingCode;
  /** Line of the file, counted from 1; null: it is about the whole run. */
  readonly line: number | null;
  /** Name of the column; null: it is about no single one. */
  readonly column: string | null;
  /** What was found there. */
  readonly detail: string;
}

export function finding(
  code: FindingCode,
  detail = "",
  line: number | null = null,
  column: string | null = null,
): Finding {
  return { code, line, column, detail };
}

export function consequenceOf({ code }: Finding): Consequence {
  return findingCodes[code].follows;
}

/** One sentence that ends in the code; the file's name is put before it by whoever knows it. */
export function findingSentence({ code, line, column, detail }: Finding): string {
  const place = [line, column].filter((part) => part !== null).join(": ");
  return `${place ? `${place}: ` : ""}${findingCodes[code].says}${detail ? ` (${detail})` : ""} [${code}]`;
}
