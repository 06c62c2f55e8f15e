/** Memory in use after everything unreachable was taken back. */
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";

export interface HeapPoint {
  readonly atS: number;
  readonly megabytes: number;
}

setFlagsFromString("--expose-gc");
const collect = runInNewContext("gc") as () => void;

/** Heap and what hangs on it, in MB. */
export function heapMegabytes(): number {
  // What the first run only unlinks is taken back by the second.
  collect();
  collect();
  const { heapUsed, external } = process.memoryUsage();
  return (heapUsed + external) / 1e6;
}

/** What garbage collection leaves unsettled, and growth beyond that which would still be called flat. */
const NOISE_MB = 0.3;
const ALLOWED_MB_PER_HOUR = 2;

export interface Growth {
  /** Slope of the line with the least squared distances. */
  readonly megabytesPerHour: number;
  /** The largest slope that is called flat over the time between the first and the last point. */
  readonly allowedPerHour: number;
}

export function growthOf(points: readonly HeapPoint[]): Growth {
  const mean = (of: (point: HeapPoint) => number) => points.reduce((sum, point) => sum + of(point), 0) / points.length;
  const [atS, megabytes] = [mean((point) => point.atS), mean((point) => point.megabytes)];
  const spread = points.reduce((sum, point) => sum + (point.atS - atS) ** 2, 0);
  const common = points.reduce((sum, point) => sum + (point.atS - atS) * (point.megabytes - megabytes), 0);
  const hours = (points.at(-1)!.atS - points[0]!.atS) / 3600;
  return { megabytesPerHour: (common / spread) * 3600, allowedPerHour: ALLOWED_MB_PER_HOUR + NOISE_MB / hours };
}
