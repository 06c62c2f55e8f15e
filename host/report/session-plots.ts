/** The plots of a session's report. */
import * as Plot from "@observablehq/plot";
import type { Agreement } from "../agreement/bland-altman.ts";
import type { ReferencePair } from "../sessions/reference-pairs.ts";
import type { Sample } from "../sessions/series.ts";
import type { SessionResult } from "../sessions/session-result.ts";
import { afterCalibration } from "../sessions/site-summary.ts";
import { plotSvg } from "./plot.ts";
import { signed } from "./session-lines.ts";
import { type PlotPoint, plotPoints, type TimeAxis, timeAxis, visibleGaps } from "./time-series.ts";

/** Told apart on white and on black, and by most colour-blind eyes; more sites begin anew with dashes. */
const COLOURS = ["#2f7fc1", "#d5741c", "#1f9d78", "#b457a0", "#8a8120", "#c04848"] as const;
const WIDTH = 760;

/** Width that the name of an event takes. */
const LABEL_ROOM = 75;

export function siteColour(index: number): string {
  return COLOURS[index % COLOURS.length]!;
}

/** Gauge pressure of every site over time, with events and postures; absolute pressure when there is no gauge one. */
export function pressurePlot(result: SessionResult): string {
  const gauge = result.series.some(({ samples }) => samples.some(({ gaugeMmhg }) => gaugeMmhg !== null));
  const of = (sample: Sample) => (gauge ? sample.gaugeMmhg : sample.absoluteHpa);
  const label = gauge ? "pressure above ambient in mmHg" : "absolute pressure in hPa";
  return timePlot(result, of, { label, height: 290, zero: gauge });
}

export function temperaturePlot(result: SessionResult): string {
  return timePlot(result, ({ temperatureC }) => temperatureC, {
    label: "temperature of the air cell in °C",
    height: 122,
  });
}

interface TimePlot {
  readonly label: string;
  readonly height: number;
  readonly zero?: boolean;
}

function timePlot(result: SessionResult, of: (sample: Sample) => number | null, look: TimePlot): string {
  const { series, sites, fromMs, toMs } = result;
  const axis = timeAxis(fromMs, toMs);
  const lines = series.map((one, index) => {
    const { label, coverage } = sites[index]!;
    return plotPoints(label, afterCalibration(one), of, visibleGaps(coverage.gaps, fromMs, toMs), axis);
  });
  const span = (toMs - fromMs) / axis.unitMs;
  return plotSvg({
    width: WIDTH,
    height: look.height,
    marginTop: 34,
    marginLeft: 44,
    marginRight: 112,
    marginBottom: 34,
    x: { label: axis.label, domain: [0, span], labelArrow: "none", labelAnchor: "left" },
    y: { label: look.label, grid: true, domain: valueRange(lines, look), nice: true, ticks: 5, labelArrow: "none" },
    marks: [
      ...eventMarks(result, axis),
      ...lines.map((points, index) =>
        Plot.line(points, {
          x: "time",
          y: "value",
          stroke: siteColour(index),
          strokeWidth: 1.4,
          strokeLinecap: "round",
          strokeDasharray: index < COLOURS.length ? "none" : "4,2",
        }),
      ),
      siteLabels(lines, span, look),
    ],
  });
}

/** A rule for every event; a word only where the word before leaves room for it. */
function eventMarks({ events, toMs }: SessionResult, { fromMs, unitMs }: TimeAxis) {
  const marked = events.filter(({ event }) => event !== "note");
  const at = marked.map(({ event, timeMs }) => ({ time: (timeMs - fromMs) / unitMs, text: event.replace("_", " ") }));
  const room = ((toMs - fromMs) / unitMs / WIDTH) * LABEL_ROOM;
  let free = Number.NEGATIVE_INFINITY;
  const named = at.filter(({ time }) => {
    if (time < free) return false;
    free = time + room;
    return true;
  });
  return [
    Plot.ruleX(at, { x: "time", stroke: "currentColor", strokeOpacity: 0.45, strokeDasharray: "2,3" }),
    Plot.text(named, { x: "time", text: "text", frameAnchor: "top-left", dx: 3, dy: -11, textAnchor: "start" }),
  ];
}

type Lines = readonly (readonly PlotPoint[])[];

/** Lowest and highest value of all lines, with zero where it belongs. */
function valueRange(lines: Lines, { zero }: TimePlot): [number, number] {
  const all = lines.flatMap((points) => points.flatMap(({ value }) => (value === null ? [] : [value])));
  if (zero === true) all.push(0);
  return all.length === 0 ? [0, 1] : [Math.min(...all), Math.max(...all)];
}

/** Names at the right end of the lines, moved apart where they would touch. */
function siteLabels(lines: Lines, span: number, look: TimePlot) {
  const [low, high] = valueRange(lines, look);
  const ends = lines.flatMap((points, index) => {
    const last = points.filter(({ value }) => value !== null).at(-1);
    return last ? [{ site: last.site, value: last.value!, colour: siteColour(index), span }] : [];
  });
  ends.sort((a, b) => a.value - b.value);
  // Margins above and below take 68 units of the height, a line of text about 14.
  const least = ((high - low) * 14) / (look.height - 68);
  for (let i = 1; i < ends.length; i++) ends[i]!.value = Math.max(ends[i]!.value, ends[i - 1]!.value + least);
  return Plot.text(ends, {
    x: "span",
    y: "value",
    text: "site",
    fill: "colour",
    textAnchor: "start",
    dx: 6,
    fontWeight: 600,
  });
}

/** One bar a site: where it was read, and the holes where it was not. */
export function coveragePlot({ sites, fromMs, toMs }: SessionResult): string {
  const axis = timeAxis(fromMs, toMs);
  const at = (timeMs: number) => (timeMs - fromMs) / axis.unitMs;
  const read = sites.flatMap(({ label, coverage, frames }, index) => {
    if (frames === 0) return [];
    const edges = [fromMs, ...visibleGaps(coverage.gaps, fromMs, toMs).flatMap((gap) => [gap.fromMs, gap.toMs]), toMs];
    return edges.flatMap((from, i) =>
      i % 2 === 0 ? [{ label, from: at(from), to: at(edges[i + 1]!), colour: siteColour(index) }] : [],
    );
  });
  return plotSvg({
    width: WIDTH,
    height: 52 + 20 * sites.length,
    marginTop: 6,
    marginLeft: 110,
    marginRight: 112,
    marginBottom: 34,
    x: { label: axis.label, domain: [0, at(toMs)], labelArrow: "none", labelAnchor: "left" },
    y: { label: null, domain: sites.map(({ label }) => label), tickSize: 0 },
    marks: [
      Plot.barX(read, { x1: "from", x2: "to", y: "label", fill: "colour", inset: 2 }),
      Plot.text(sites, {
        x: () => at(toMs),
        y: "label",
        text: ({ coverage }) => `${coverage.coveredPercent.toFixed(1)} %`,
        textAnchor: "start",
        dx: 6,
      }),
    ],
  });
}

/** Difference against mean, with bias, limits of agreement and their confidence intervals. */
export function agreementPlot(pairs: readonly ReferencePair[], agreement: Agreement, sites: readonly string[]): string {
  const points = pairs.map(({ site, tagMmhg, referenceMmhg }) => ({
    mean: (tagMmhg + referenceMmhg) / 2,
    difference: tagMmhg - referenceMmhg,
    colour: siteColour(Math.max(0, sites.indexOf(site))),
  }));
  const { bias, biasInterval, lowerLimit, lowerInterval, upperLimit, upperInterval } = agreement;
  const lines = [
    { value: bias, text: `bias ${signed(bias, 2)}`, interval: biasInterval },
    { value: lowerLimit, text: `lower limit ${signed(lowerLimit, 2)}`, interval: lowerInterval },
    { value: upperLimit, text: `upper limit ${signed(upperLimit, 2)}`, interval: upperInterval },
  ];
  return plotSvg({
    width: WIDTH,
    height: 142,
    marginTop: 26,
    marginLeft: 44,
    marginRight: 120,
    marginBottom: 34,
    x: { label: "mean of tag and reference in mmHg", labelArrow: "none", labelAnchor: "left", nice: true },
    y: { label: "tag less reference in mmHg", labelArrow: "none", nice: true },
    marks: [
      ...lines.map(({ interval }) =>
        Plot.rect([interval], { y1: "low", y2: "high", fill: "currentColor", fillOpacity: 0.08 }),
      ),
      Plot.ruleY(lines, { y: "value", stroke: "currentColor", strokeDasharray: "4,3" }),
      Plot.text(lines, { y: "value", text: "text", frameAnchor: "right", textAnchor: "start", dx: 8 }),
      Plot.dot(points, { x: "mean", y: "difference", fill: "colour", r: 3.5 }),
    ],
  });
}
