import { describe, expect, it } from "vitest";
import { Trace } from "../../../host/page/store/trace.ts";
import { nearest, summaryOf } from "../../../host/page/time/summary.ts";

function traceOf(points: readonly (readonly [number, number | null, number | null])[]): Trace {
  const trace = new Trace();
  for (const [timeS, gauge, uncertainty] of points) trace.push(timeS, gauge, uncertainty);
  return trace;
}

describe("figures of a stretch", () => {
  // Worked by hand: of 40, 44, 30 and 46 the mean is 40; gaps of 8 s and, to the end, of 5 s.
  const trace = traceOf([
    [1, 40, 0.5],
    [2, 44, null],
    [3, null, null],
    [10, 30, 0.5],
    [11, 46, 0.5],
    [90, 99, 0.5],
  ]);

  it("are of its samples alone", () => {
    expect(summaryOf(trace, 0, 16, 2)).toEqual({
      samples: 4,
      unsure: 1,
      lowestMmhg: 30,
      meanMmhg: 40,
      highestMmhg: 46,
      gaps: 2,
      longestGapS: 8,
    });
  });

  it("count a gap that comes in from before and one that goes out behind", () => {
    expect(summaryOf(trace, 20, 60, 2)).toMatchObject({ samples: 0, gaps: 1, longestGapS: 40, meanMmhg: null });
  });

  it("count no gap before the first sample ever", () => {
    expect(summaryOf(traceOf([[50, 40, 0.5]]), 0, 51, 2)).toMatchObject({ samples: 1, gaps: 0 });
  });

  it("are none without a sample, and never 0", () => {
    expect(summaryOf(new Trace(), 0, 10, 2)).toEqual({
      samples: 0,
      unsure: 0,
      lowestMmhg: null,
      meanMmhg: null,
      highestMmhg: null,
      gaps: 0,
      longestGapS: 0,
    });
  });
});

describe("the sample at a time", () => {
  const trace = traceOf([
    [1, 40, 0.5],
    [2, 44, 0.5],
    [9, 50, 0.5],
  ]);

  it("is the nearest one, and none in a gap", () => {
    expect([1.4, 1.6, 2.9, 5, 8.5, 20].map((timeS) => nearest(trace, timeS, 1))).toEqual([0, 1, 1, null, 2, null]);
    expect(nearest(new Trace(), 1, 1)).toBeNull();
  });
});
