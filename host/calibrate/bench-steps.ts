/** The steps of a bench run that is to be recorded, from a file or the usual ones. */
import { columnOf, quantities, toSi } from "./bench-columns.ts";
import type { RunDirection } from "./bench-run.ts";

export interface BenchStep {
  readonly cycle: number;
  readonly direction: Exclude<RunDirection, "hold">;
  /** What is to be applied, as written: number and unit suffix of the run's load column. */
  readonly value: number;
  /** After the settled readings the load is kept this long and read on. */
  readonly holdS: number;
}

export interface BenchSteps {
  /** Name of the load's column, such as `reference_mmhg` or `tension_n`. */
  readonly column: string;
  readonly steps: readonly BenchStep[];
}

/** 0 to 100 mmHg and back in steps of 20, three times. */
export function usualSteps(): BenchSteps {
  const up = [0, 20, 40, 60, 80, 100];
  const steps = [1, 2, 3].flatMap((cycle) => [
    ...up.map((value): BenchStep => ({ cycle, direction: "up", value, holdS: 0 })),
    ...[...up]
      .reverse()
      .slice(1)
      .map((value): BenchStep => ({ cycle, direction: "down", value, holdS: 0 })),
  ]);
  return { column: "reference_mmhg", steps };
}

/** A sentence says what is wrong with the steps file, with its line. */
export class StepsError extends Error {
  constructor(sentence: string) {
    super(sentence);
    this.name = "StepsError";
  }
}

/**
 * Steps from CSV: a load column (`reference_…`, `tension_…` or `weight_…`) and, when wanted, `cycle`, `direction` and
 * `hold_s`. Throws a StepsError.
 */
export function parseSteps(text: string): BenchSteps {
  const lines = text.split(/\r?\n/).flatMap((content, i) => {
    const kept = content.trim() !== "" && !content.startsWith("#");
    return kept ? [{ line: i + 1, cells: content.split(",").map((cell) => cell.trim()) }] : [];
  });
  const [head, ...rows] = lines;
  if (!head || rows.length === 0) throw new StepsError("no steps");
  const names = head.cells.map((name) => name.toLowerCase());
  const loads = names.filter((name) => ["reference", "tension", "weight"].includes(columnOf(name)?.quantity ?? ""));
  if (loads.length !== 1) throw new StepsError(`${head.line}: one column of load, such as reference_mmhg, is needed`);
  const strange = names.find((name) => name !== loads[0] && !["cycle", "direction", "hold_s"].includes(name));
  if (strange !== undefined) throw new StepsError(`${head.line}: ${strange}: a column that is not known`);
  const load = columnOf(loads[0]!)!;
  let before: BenchStep | null = null;
  const steps = rows.map(({ line, cells }): BenchStep => {
    const cell = (name: string) => cells[names.indexOf(name)] ?? "";
    const numberIn = (name: string, otherwise: number | null) => {
      const value = cell(name) === "" && otherwise !== null ? otherwise : Number(cell(name) || Number.NaN);
      if (!Number.isFinite(value)) throw new StepsError(`${line}: ${name}: "${cell(name)}" is no number`);
      return value;
    };
    const value = numberIn(load.name, null);
    const [low, high] = quantities[load.quantity].range;
    if (!(toSi(load, value) >= low && toSi(load, value) <= high)) {
      throw new StepsError(`${line}: ${load.name}: ${value} cannot be; ${quantities[load.quantity].what}`);
    }
    const cycle = numberIn("cycle", before?.cycle ?? 1);
    const inferred = before && before.cycle === cycle && value < before.value ? "down" : "up";
    const direction = cell("direction") || inferred;
    if (direction !== "up" && direction !== "down") {
      throw new StepsError(`${line}: direction: "${direction}" is neither up nor down`);
    }
    before = { cycle, direction, value, holdS: numberIn("hold_s", 0) };
    return before;
  });
  return { column: load.name, steps };
}

/** A load as it is said to a person: `40 mmHg`. */
export function loadText(column: string, value: number): string {
  const names: { readonly [unit: string]: string } = {
    mmhg: "mmHg",
    hpa: "hPa",
    kpa: "kPa",
    pa: "Pa",
    cmh2o: "cmH2O",
    n: "N",
  };
  const unit = columnOf(column)!.unit;
  return `${value} ${names[unit] ?? unit}`;
}
