import { describe, expect, it } from "vitest";
import { Trace } from "../../../host/page/store/trace.ts";
import { gapLimitS, type Lines, linesOf } from "../../../host/page/time/lines.ts";

type Point = readonly [timeS: number, gaugeMmhg: number | null, uncertaintyMmhg?: number | null];

function traceOf(points: readonly Point[]): Trace {
  const trace = new Trace();
  for (const [timeS, gauge, uncertainty = 0.5] of points) trace.push(timeS, gauge, uncertainty);
  return trace;
}

const every = (stepS: number, fromS: number, toS: number, gauge: number): Point[] =>
  Array.from({ length: Math.round((toS - fromS) / stepS) + 1 }, (_, i) => [fromS + i * stepS, gauge]);

const lines = (points: readonly Point[], limitS: number, fromS = 0, toS = 100, columns = 100): Lines =>
  linesOf([{ trace: traceOf(points), gapLimitS: limitS }], fromS, toS, columns);

/** Stretches of a line that a plot would join: rows of numbers without a null between them, as their first and last time. */
function stretches([times, ...all]: Lines, line: 0 | 1): [number, number][] {
  const found: [number, number][] = [];
  let open = false;
  all[line]!.forEach((value, row) => {
    if (value === null) open = false;
    if (typeof value !== "number") return;
    if (open) found.at(-1)![1] = times[row]!;
    else found.push([times[row]!, times[row]!]);
    open = true;
  });
  return found;
}

const numbers = (line: readonly (number | null | undefined)[]) => line.filter((value) => typeof value === "number");

describe("gaps", () => {
  it("are longer than three sampling periods and half a second, or two seconds when the period is not known", () => {
    expect([null, 0.05, 0.25, 1, 4].map(gapLimitS)).toEqual([2, 0.5, 0.75, 3, 12]);
  });

  it("stay open: nothing joins the samples on both sides", () => {
    const drawn = stretches(lines([...every(1, 5, 30, 40), ...every(1, 50, 90, 42)], 2), 0);
    expect(drawn).toHaveLength(2);
    expect(drawn[0]![1]).toBeLessThan(31);
    expect(drawn[1]![0]).toBeGreaterThanOrEqual(50);
  });

  it("are empty over their whole width, as the plot leaves open only what is null all along", () => {
    const [times, known] = lines([...every(1, 5, 30, 40), ...every(1, 50, 90, 42)], 2);
    const inside = known!.filter((_, row) => times[row]! > 31 && times[row]! < 50);
    expect(inside.length).toBeGreaterThan(30);
    expect(new Set(inside)).toEqual(new Set([null]));
  });

  it("are none between samples that are no further apart than the limit", () => {
    expect(stretches(lines(every(2, 4, 90, 40), 2), 0)).toHaveLength(1);
  });

  it("are also where a sample gave no pressure", () => {
    const points: Point[] = [...every(1, 10, 40, 40), [41, null], [42, null], ...every(1, 43, 80, 40)];
    expect(stretches(lines(points, 5), 0)).toHaveLength(2);
  });

  it("do not begin at the left edge when the trace comes in from there", () => {
    const [drawn] = stretches(lines(every(1, 0, 60, 40), 2, 30, 60, 30), 0);
    expect(drawn![0]).toBeLessThanOrEqual(30);
  });
});

describe("lines", () => {
  it("lose no peak, however many samples fall into a column", () => {
    const points = Array.from({ length: 20_000 }, (_, i): Point => [i * 0.005, i === 12_345 ? 99 : 40]);
    const [, known] = lines(points, 2);
    expect(Math.max(...numbers(known!))).toBe(99);
    expect(numbers(known!).length).toBeLessThanOrEqual(2 * 103);
  });

  it("have low and high in the order they came", () => {
    const [, known] = lines(
      [
        [10.1, 20],
        [10.2, 50],
        [20.1, 50],
        [20.2, 20],
      ],
      100,
    );
    expect(numbers(known!)).toEqual([20, 50, 50, 20]);
  });

  it("draw samples without a known uncertainty apart from those with one", () => {
    const points: Point[] = [
      ...every(1, 10, 20, 40),
      ...every(1, 21, 30, 41).map(([t, g]): Point => [t, g, null]),
      ...every(1, 31, 40, 42),
    ];
    const all = lines(points, 3);
    expect(new Set(numbers(all[1]!))).toEqual(new Set([40, 42]));
    expect(new Set(numbers(all[2]!))).toEqual(new Set([41]));
    expect(stretches(all, 0)).toHaveLength(2);
    expect(stretches(all, 1)).toHaveLength(1);
  });

  it("call a column sure only when every sample in it is", () => {
    const all = lines(
      [
        [10.1, 40],
        [10.2, 41, null],
      ],
      100,
    );
    expect(numbers(all[1]!)).toEqual([]);
    expect(numbers(all[2]!)).toEqual([40, 41]);
  });

  it("keep their columns in place while the window moves, so that nothing shivers", () => {
    const points = every(0.25, 0, 100, 40);
    const [before] = lines(points, 2, 20, 60, 80);
    const [after] = lines(points, 2, 20.3, 60.3, 80);
    const shift = (after[0]! - before[0]!) / 0.5;
    expect(shift).toBeCloseTo(Math.round(shift), 9);
  });

  it("come in and go out at the slope between the samples on both sides of an edge", () => {
    const [times, known] = lines(
      [
        [0, 0],
        [10, 100],
      ],
      20,
      4,
      6,
      20,
    );
    const row = known!.findIndex((value) => typeof value === "number");
    // A column is 0.1 s wide, and the slope 10 mmHg a second.
    expect(Math.abs((known![row] as number) - times[row]! * 10)).toBeLessThanOrEqual(1);
    expect(numbers(known!).length).toBeGreaterThanOrEqual(2);
    expect(Math.min(...numbers(known!))).toBeGreaterThan(37);
    expect(Math.max(...numbers(known!))).toBeLessThan(63);
  });

  it("put every site on the same times", () => {
    const one = { trace: traceOf(every(1, 0, 10, 40)), gapLimitS: 2 };
    const two = { trace: traceOf(every(0.7, 0, 10, 30)), gapLimitS: 2 };
    const [times, ...all] = linesOf([one, two], 0, 10, 40);
    expect(all.map(({ length }) => length)).toEqual(Array(4).fill(times.length));
    expect(numbers(all[2]!).every((value) => value === 30)).toBe(true);
  });
});
