/** Settled points of a bench run, and the levels, plateaus and holds they form. */
import type { BenchRow } from "./bench-run.ts";
import type { CellPoint } from "./cell-model.ts";
import type { Direction } from "./static-errors.ts";

/** Mean of the readings of one step. */
export interface BenchPoint extends CellPoint {
  /** Lines of its rows. */
  readonly lines: readonly number[];
  readonly timeS: number | null;
  readonly cycle: number;
  readonly direction: Direction;
  /** Sum of squares of its sensor pressures about their mean. */
  readonly squaresPa2: number;
  /** Reference it counts as having been meant: points within a fiftieth of the span are at the same level. */
  readonly levelPa: number;
  /** Index of its temperature plateau: plateaus lie more than 2 K apart. */
  readonly plateau: number;
}

/** A load kept for a while: the point before it, then its rows in order. */
export interface Hold {
  readonly referencePa: number;
  readonly rows: readonly BenchRow[];
}

export function pointsOf(rows: readonly BenchRow[]): BenchPoint[] {
  const groups: BenchRow[][] = [];
  for (const row of rows) {
    if (row.direction === "hold") continue;
    const last = groups.at(-1)?.[0];
    const same =
      last !== undefined &&
      row.step !== null &&
      last.step === row.step &&
      last.cycle === row.cycle &&
      last.direction === row.direction;
    if (same) groups.at(-1)!.push(row);
    else groups.push([row]);
  }
  const points = groups.map((group) => {
    const sensorPa = mean(group.map((row) => row.sensorPa));
    const temperatures = group.flatMap(({ temperatureC }) => (temperatureC === null ? [] : [temperatureC]));
    return {
      lines: group.map(({ line }) => line),
      timeS: group[0]!.timeS,
      cycle: group[0]!.cycle,
      direction: group[0]!.direction as Direction,
      referencePa: mean(group.map(({ referencePa }) => referencePa)),
      sensorPa,
      temperatureC: temperatures.length === 0 ? null : mean(temperatures),
      ambientPa: mean(group.map(({ ambientPa }) => ambientPa)),
      squaresPa2: group.reduce((total, row) => total + (row.sensorPa - sensorPa) ** 2, 0),
    };
  });
  const references = points.map(({ referencePa }) => referencePa);
  const span = Math.max(...references) - Math.min(...references);
  const levels = clusters(references, span / 50);
  const plateaus = clusters(
    points.map(({ temperatureC }) => temperatureC ?? 0),
    2,
  );
  const centres = levels.map((level) => {
    const centre = mean(references.filter((_, k) => levels[k] === level));
    return Math.abs(centre) < span / 100 ? 0 : centre;
  });
  return points.map((point, i) => ({ ...point, levelPa: centres[i]!, plateau: plateaus[i]! }));
}

export function holdsOf(rows: readonly BenchRow[]): Hold[] {
  const holds: BenchRow[][] = [];
  for (const [i, row] of rows.entries()) {
    if (row.direction !== "hold") continue;
    if (rows[i - 1]?.direction === "hold") holds.at(-1)!.push(row);
    else holds.push([...(rows[i - 1] ? [rows[i - 1]!] : []), row]);
  }
  return holds.map((held) => ({ referencePa: held[0]!.referencePa, rows: held }));
}

/** Index of the cluster of each value, in rising order; a cluster reaches `width` from its lowest value. */
function clusters(values: readonly number[], width: number): number[] {
  const order = [...values.keys()].sort((a, b) => values[a]! - values[b]!);
  const found = new Array<number>(values.length).fill(0);
  let index = 0;
  let lowest = values[order[0]!]!;
  for (const at of order) {
    if (values[at]! - lowest > width) {
      index++;
      lowest = values[at]!;
    }
    found[at] = index;
  }
  return found;
}

function mean(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0) / values.length;
}
