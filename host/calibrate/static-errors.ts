/**
 * Static errors of a measuring device, in the words of IEC 61298-2 and ISA-51.1: hysteresis, repeatability, non-linearity,
 * creep and zero return. Errors are in the unit of the output; shares are of the span.
 */
import { regress } from "./regression.ts";

export type Direction = "up" | "down";

/** One settled output at an input, going up or down. */
export interface StaticPoint {
  readonly input: number;
  readonly output: number;
  readonly direction: Direction;
  readonly cycle: number;
}

/** Value with the input at which it is largest, and as a share of the span. */
export interface StaticError {
  readonly value: number;
  readonly atInput: number;
  readonly ofSpan: number;
}

/** A straight line and how far the mean of up and down readings lies from it. */
export interface NonLinearity extends StaticError {
  readonly constant: number;
  readonly slope: number;
}

/** The three lines that a non-linearity may be meant from; each has another figure. */
export interface NonLinearities {
  /** Line through the two end points. */
  readonly terminal: NonLinearity;
  /** Line that makes the largest deviation smallest. */
  readonly independent: NonLinearity;
  /** Line of least squares. */
  readonly leastSquares: NonLinearity;
}

/** Largest difference between up and down at the same input; null when no input was reached both ways. */
export function hysteresis(points: readonly StaticPoint[], span: number): StaticError | null {
  const errors = levels(points).flatMap(({ input, up, down }) =>
    up.length > 0 && down.length > 0 ? [{ input, value: Math.abs(mean(up) - mean(down)) }] : [],
  );
  return largest(errors, span);
}

export interface Repeatability {
  /** Pooled standard deviation of outputs at the same input from the same direction. */
  readonly sd: number;
  readonly degreesOfFreedom: number;
  /** Largest range among them, as the standards quote it. */
  readonly range: StaticError;
}

/** Scatter from cycle to cycle; null when no input was reached twice from the same direction. */
export function repeatability(points: readonly StaticPoint[], span: number): Repeatability | null {
  const groups = levels(points).flatMap(({ input, up, down }) => [up, down].map((outputs) => ({ input, outputs })));
  const repeated = groups.filter(({ outputs }) => outputs.length > 1);
  const degreesOfFreedom = repeated.reduce((total, { outputs }) => total + outputs.length - 1, 0);
  if (degreesOfFreedom === 0) return null;
  const squares = repeated.reduce((total, { outputs }) => total + squaresAboutMean(outputs), 0);
  const ranges = repeated.map(({ input, outputs }) => ({ input, value: Math.max(...outputs) - Math.min(...outputs) }));
  return { sd: Math.sqrt(squares / degreesOfFreedom), degreesOfFreedom, range: largest(ranges, span)! };
}

/** Non-linearity of the average of up and down readings; null with fewer than three inputs. */
export function nonLinearity(points: readonly StaticPoint[], span: number): NonLinearities | null {
  const averages = levels(points).map(({ input, up, down }) => ({
    input,
    output: up.length > 0 && down.length > 0 ? (mean(up) + mean(down)) / 2 : mean([...up, ...down]),
  }));
  if (averages.length < 3) return null;
  const [first, last] = [averages[0]!, averages.at(-1)!];
  const slope = (last.output - first.output) / (last.input - first.input);
  const line = regress({
    columns: [averages.map(({ input }) => input)],
    response: averages.map(({ output }) => output),
    intercept: true,
  });
  const from = (constant: number, gradient: number): NonLinearity => {
    const errors = averages.map(({ input, output }) => ({
      input,
      value: Math.abs(output - constant - gradient * input),
    }));
    return { constant, slope: gradient, ...largest(errors, span)! };
  };
  return {
    terminal: from(first.output - slope * first.input, slope),
    independent: from(...minimaxLine(averages)),
    leastSquares: from(line.coefficients[0]!, line.coefficients[1]!),
  };
}

/** Change of the output while the input was held, from the first to the last of the readings given in order of time. */
export interface Creep {
  readonly input: number;
  readonly value: number;
  readonly durationS: number;
}

export function creep(
  hold: readonly { readonly timeS: number; readonly output: number }[],
  input: number,
): Creep | null {
  const [first, last] = [hold[0], hold.at(-1)];
  if (!first || !last || last.timeS <= first.timeS) return null;
  return { input, value: last.output - first.output, durationS: last.timeS - first.timeS };
}

/** Change of the output at zero input over a cycle: last less first; one value a cycle that began and ended at zero. */
export function zeroReturns(points: readonly StaticPoint[]): { readonly cycle: number; readonly value: number }[] {
  const cycles = [...new Set(points.map(({ cycle }) => cycle))];
  return cycles.flatMap((cycle) => {
    const zeros = points.filter((point) => point.cycle === cycle && point.input === 0);
    const up = zeros.find(({ direction }) => direction === "up");
    const down = zeros.filter(({ direction }) => direction === "down").at(-1);
    return up && down ? [{ cycle, value: down.output - up.output }] : [];
  });
}

interface Level {
  readonly input: number;
  readonly up: number[];
  readonly down: number[];
}

function levels(points: readonly StaticPoint[]): Level[] {
  const found = new Map<number, Level>();
  for (const { input, output, direction } of points) {
    const level = found.get(input) ?? { input, up: [], down: [] };
    level[direction].push(output);
    found.set(input, level);
  }
  return [...found.values()].sort((a, b) => a.input - b.input);
}

/**
 * Line of least largest deviation: parallel to an edge of the points' convex hull, half way to the point farthest from it
 * on the other side. Every pair of points is tried, for there are few.
 */
function minimaxLine(points: readonly { readonly input: number; readonly output: number }[]): [number, number] {
  let best: [number, number] = [0, 0];
  let smallest = Number.POSITIVE_INFINITY;
  for (const [i, a] of points.entries()) {
    for (const b of points.slice(i + 1)) {
      const slope = (b.output - a.output) / (b.input - a.input);
      const rests = points.map(({ input, output }) => output - slope * input);
      const [low, high] = [Math.min(...rests), Math.max(...rests)];
      if (high - low >= smallest) continue;
      smallest = high - low;
      best = [(low + high) / 2, slope];
    }
  }
  return best;
}

function largest(
  errors: readonly { readonly input: number; readonly value: number }[],
  span: number,
): StaticError | null {
  const worst = errors.reduce<{ input: number; value: number } | null>(
    (found, error) => (found === null || error.value > found.value ? error : found),
    null,
  );
  return worst && { value: worst.value, atInput: worst.input, ofSpan: worst.value / span };
}

function mean(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0) / values.length;
}

function squaresAboutMean(values: readonly number[]): number {
  const centre = mean(values);
  return values.reduce((total, value) => total + (value - centre) ** 2, 0);
}
