import { describe, expect, it } from "vitest";
import { Trace } from "../../../host/page/store/trace.ts";

function traceOf(...times: number[]): Trace {
  const trace = new Trace();
  for (const timeS of times) trace.push(timeS, timeS * 10, 0.5);
  return trace;
}

describe("trace", () => {
  it("gives back what it was given, in order", () => {
    const trace = traceOf(1, 2, 3);
    expect([0, 1, 2].map((i) => trace.sample(i))).toEqual([
      { timeS: 1, gaugeMmhg: 10, uncertaintyMmhg: 0.5 },
      { timeS: 2, gaugeMmhg: 20, uncertaintyMmhg: 0.5 },
      { timeS: 3, gaugeMmhg: 30, uncertaintyMmhg: 0.5 },
    ]);
  });

  it("keeps what is missing missing, never as 0", () => {
    const trace = new Trace();
    trace.push(1, null, null);
    trace.push(2, 0, null);
    expect(trace.sample(0)).toEqual({ timeS: 1, gaugeMmhg: null, uncertaintyMmhg: null });
    expect(trace.sample(1)).toEqual({ timeS: 2, gaugeMmhg: 0, uncertaintyMmhg: null });
  });

  it("grows past its first size without losing a sample", () => {
    const trace = new Trace();
    for (let i = 0; i < 5000; i++) expect(trace.push(i, i % 100, 0.5)).toBe(true);
    expect(trace.length).toBe(5000);
    expect(trace.leftOut).toBe(0);
    expect(trace.sample(4321)).toEqual({ timeS: 4321, gaugeMmhg: 21, uncertaintyMmhg: 0.5 });
  });

  it("lets the oldest give way at its limit, and counts them", () => {
    const trace = new Trace(2000);
    for (let i = 0; i < 4500; i++) trace.push(i, 1, 0.5);
    expect([trace.length, trace.leftOut, trace.timeS(0), trace.timeS(1999)]).toEqual([2000, 2500, 2500, 4499]);
    expect(trace.indexAt(3000)).toBe(500);
  });

  it("refuses a sample earlier than the newest, and takes one of the same time", () => {
    const trace = traceOf(1, 2);
    expect(trace.push(1.5, 9, 0.5)).toBe(false);
    expect(trace.push(2, 9, 0.5)).toBe(true);
    expect(trace.length).toBe(3);
  });

  it("finds the first sample at or after a time", () => {
    const trace = traceOf(1, 2, 2, 4);
    expect([0, 1, 1.5, 2, 3, 4, 5].map((timeS) => trace.indexAt(timeS))).toEqual([0, 0, 1, 1, 3, 3, 4]);
  });

  it("drops what is cut off, and goes on from there", () => {
    const trace = traceOf(1, 2, 3, 4);
    trace.cutFrom(3);
    expect(trace.length).toBe(2);
    expect(trace.push(3.5, 1, 0.5)).toBe(true);
    expect(trace.timeS(2)).toBe(3.5);
  });
});
