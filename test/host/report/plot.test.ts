import * as Plot from "@observablehq/plot";
import { describe, expect, it } from "vitest";
import { plotPng, plotSvg } from "../../../host/report/plot.ts";
import { plotPoints, timeAxis, visibleGaps } from "../../../host/report/time-series.ts";
import type { Sample } from "../../../host/sessions/series.ts";

const svg = plotSvg({
  width: 300,
  height: 100,
  marks: [
    Plot.line([
      [0, 1],
      [1, 2],
      [2, null],
      [3, 1],
    ]),
  ],
});

describe("a plot", () => {
  it("is one SVG element that stands alone", () => {
    expect(svg).toMatch(/^<svg [^>]*xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
    expect(svg.match(/<svg/g)).toHaveLength(1);
    expect(svg).not.toMatch(/https?:\/\/(?!www\.w3\.org)/);
    expect(svg).not.toContain("NaN");
  });

  it("takes the colours of the page it stands in", () => expect(svg).toContain('fill="currentColor"'));

  it("breaks a line where a value is missing", () => {
    const line = /<path[^>]* d="([^"]*M[^"]*)"/.exec(svg.slice(svg.indexOf('aria-label="line"')))![1]!;
    expect(line.match(/M/g)).toHaveLength(2);
  });

  it("as PNG has the size asked for", () => {
    const png = Buffer.from(plotPng(svg, 2));
    expect(png.subarray(1, 4).toString()).toBe("PNG");
    // Width and height of the IHDR chunk (PNG specification, 11.2.2).
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([600, 200]);
  });
});

describe("samples as points of a plot", () => {
  const sample = (timeMs: number, gaugeMmhg: number | null) => ({ timeMs, gaugeMmhg }) as Sample;
  const axis = timeAxis(0, 60_000);

  it("keep every value, and a hole in each gap", () => {
    const samples = [sample(0, 1), sample(1000, 2), sample(5000, null), sample(9000, 3)];
    const gaps = [{ fromMs: 1000, toMs: 9000 }];
    expect(plotPoints("B1", samples, ({ gaugeMmhg }) => gaugeMmhg, gaps, axis)).toEqual([
      { site: "B1", time: 0, value: 1 },
      { site: "B1", time: 1, value: 2 },
      { site: "B1", time: 5, value: null },
      { site: "B1", time: 9, value: 3 },
    ]);
  });

  it("are thinned without losing a peak", () => {
    const many = Array.from({ length: 50_000 }, (_, i) => sample(i, i === 31_234 ? 99 : i === 7 ? -5 : 40));
    const points = plotPoints("B1", many, ({ gaugeMmhg }) => gaugeMmhg, [], axis);
    const values = points.map(({ value }) => value!);
    expect(points.length).toBeLessThanOrEqual(1200);
    expect(Math.max(...values)).toBe(99);
    expect(Math.min(...values)).toBe(-5);
    expect(points.every(({ time }, i) => i === 0 || time >= points[i - 1]!.time)).toBe(true);
  });

  it("are broken only where a gap can be seen", () => {
    const gaps = [
      { fromMs: 0, toMs: 90 },
      { fromMs: 1000, toMs: 1110 },
    ];
    expect(visibleGaps(gaps, 0, 60_000)).toEqual([gaps[1]]);
  });

  it("have seconds, minutes or hours on their axis", () => {
    expect(timeAxis(0, 300_000).label).toMatch(/^time in s /);
    expect(timeAxis(0, 301_000).label).toMatch(/^time in min /);
    expect(timeAxis(0, 4 * 3_600_000).label).toMatch(/^time in h /);
  });
});
