/** Static errors of a calibrated tag, from the points and holds of its bench run, temperature plateau by plateau. */
import type { BenchPoint, Hold } from "./bench-points.ts";
import { type CellFit, cellReading } from "./cell-model.ts";
import {
  type Creep,
  creep,
  hysteresis,
  type NonLinearities,
  nonLinearity,
  repeatability,
  type StaticError,
  type StaticPoint,
  zeroReturns,
} from "./static-errors.ts";

export interface BenchErrors {
  readonly spanPa: number;
  /** Largest over the plateaus, of calibrated readings. */
  readonly hysteresis: StaticError | null;
  /** Pooled over the plateaus. */
  readonly repeatability: {
    readonly sd: number;
    readonly degreesOfFreedom: number;
    readonly range: StaticError;
  } | null;
  /** Scatter of single readings about the mean of their step; null when every step is one reading. */
  readonly singleReading: { readonly sd: number; readonly degreesOfFreedom: number } | null;
  /** Of the cell itself at the plateau with most points: sensor less ambient, over the reference, offset and temperature taken off. */
  readonly nonLinearity: NonLinearities | null;
  readonly creeps: readonly Creep[];
  readonly zeroReturns: readonly { readonly cycle: number; readonly value: number }[];
}

export function benchErrors(points: readonly BenchPoint[], holds: readonly Hold[], fit: CellFit): BenchErrors {
  const references = points.map(({ referencePa }) => referencePa);
  const spanPa = Math.max(...references) - Math.min(0, ...references);
  const plateaus = [...new Set(points.map(({ plateau }) => plateau))].map((plateau) =>
    points.filter((point) => point.plateau === plateau),
  );
  const readings = plateaus.map((some) => some.map((point, _i): StaticPoint => calibrated(point, fit)));
  const loops = readings.flatMap((some) => hysteresis(some, spanPa) ?? []);
  const scatters = readings.flatMap((some) => repeatability(some, spanPa) ?? []);
  const dof = scatters.reduce((total, { degreesOfFreedom }) => total + degreesOfFreedom, 0);
  const largest = [...plateaus].sort((a, b) => b.length - a.length)[0] ?? [];
  const within = points.reduce((total, { lines }) => total + lines.length - 1, 0);
  const reading = (row: Hold["rows"][number]) => cellReading(row, fit.coefficients, fit.referenceC).gaugePa;
  return {
    spanPa,
    hysteresis: worst(loops),
    repeatability:
      dof === 0
        ? null
        : {
            sd: Math.sqrt(scatters.reduce((total, s) => total + s.sd ** 2 * s.degreesOfFreedom, 0) / dof),
            degreesOfFreedom: dof,
            range: worst(scatters.map(({ range }) => range))!,
          },
    singleReading:
      within === 0
        ? null
        : {
            sd:
              Math.sqrt(points.reduce((total, { squaresPa2 }) => total + squaresPa2, 0) / within) *
              fit.coefficients.gain,
            degreesOfFreedom: within,
          },
    nonLinearity: nonLinearity(
      largest.map((point) => ofTheCell(point, fit)),
      spanPa,
    ),
    creeps: holds.flatMap(({ referencePa, rows }) => {
      const timed = rows.flatMap((row) => (row.timeS === null ? [] : [{ timeS: row.timeS, output: reading(row) }]));
      return creep(timed, referencePa) ?? [];
    }),
    zeroReturns: readings.flatMap(zeroReturns),
  };
}

function calibrated(point: BenchPoint, { coefficients, referenceC }: CellFit): StaticPoint {
  const { levelPa, referencePa, direction, cycle } = point;
  const output = levelPa + cellReading(point, coefficients, referenceC).gaugePa - referencePa;
  return { input: levelPa, output, direction, cycle };
}

function ofTheCell(point: BenchPoint, { coefficients, referenceC }: CellFit): StaticPoint {
  const { levelPa, referencePa, direction, cycle, sensorPa, ambientPa, temperatureC } = point;
  const kelvin = temperatureC === null ? 0 : temperatureC - referenceC;
  const difference = sensorPa + coefficients.offset - coefficients.temperature_effect * kelvin - ambientPa;
  return { input: levelPa, output: difference + (levelPa - referencePa) / coefficients.gain, direction, cycle };
}

function worst(errors: readonly StaticError[]): StaticError | null {
  return [...errors].sort((a, b) => b.value - a.value)[0] ?? null;
}
