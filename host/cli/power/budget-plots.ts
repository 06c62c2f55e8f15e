/** Pictures of a power budget: the store's voltage over time, the rate over power, the tornado. */
import * as Plot from "@observablehq/plot";
import { type BudgetScenario, curveOf, momentsIn, type StateName, states } from "../../../sim/index.ts";
import type { PlotOptions } from "../../report/plot.ts";
import type { BudgetResult } from "./budget-result.ts";
import { figure } from "./budget-text.ts";

const SIZE = { width: 860, marginLeft: 60, marginRight: 24, marginTop: 34, marginBottom: 42 } as const;
const BLUE = "#1f5fa8";
const RED = "#b03a2e";

/** Of the rows under the voltage. */
const COLOURS: { readonly [name in StateName]: string } = {
  off: "#b0b0b0",
  start: "#7b5ea7",
  check: "#c98a1b",
  convert: "#3d9a6c",
  frame: BLUE,
  counters: "#6a6a6a",
  burst: RED,
  sleep: "#d5d5d5",
};

const ROWS = states.map(({ name, has }) => ({ name, colour: COLOURS[name], has: has as readonly string[] }));

/** Times of the window that is drawn: from a little before the first start, for as long as a few samples take. */
function windowOf({ moments, life }: BudgetResult, periodS: number): readonly [number, number] {
  const startS = moments.find(({ activity }) => activity !== "off")?.fromS;
  if (startS === undefined) return [0, Math.min(life.seconds, 10)];
  return [0, Math.min(life.seconds, startS + Math.max(0.4, 5 * periodS))];
}

/** Voltage of the store with what firmware is doing under it. */
export function voltagePlot({ values }: BudgetScenario, result: BudgetResult): PlotOptions {
  const [fromS, toS] = windowOf(result, values["firmware.period_ms"]! / 1000);
  const seen = momentsIn(result.moments, fromS, toS);
  const line = seen.flatMap((moment) => curveOf(moment));
  const top = Math.max(values["supervisor.on_v"]!, ...line.map(({ v }) => v)) * 1.05;
  const rowV = top / 22;
  const levels = [
    { v: values["supervisor.on_v"]!, name: "supervisor on" },
    { v: values["firmware.start_mv"]! / 1000, name: "firmware begins a sample" },
    { v: values["supervisor.off_v"]!, name: "supervisor off" },
  ];
  const bars = ROWS.flatMap(({ has, colour }, row) =>
    seen
      .filter(({ activity }) => has.includes(activity))
      .map(({ fromS: x1, toS: x2 }) => ({ x1, x2, y1: -(row + 1.4) * rowV, y2: -(row + 0.6) * rowV, colour })),
  );
  return {
    ...SIZE,
    height: 520,
    marginLeft: 84,
    x: { label: "time in s", domain: [fromS, toS], grid: true },
    y: {
      label: "store in V",
      domain: [-(ROWS.length + 0.5) * rowV, top],
      ticks: [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 5].filter((v) => v <= top),
    },
    marks: [
      Plot.ruleY(levels, { y: "v", stroke: RED, strokeDasharray: "5,4" }),
      Plot.text(levels, { x: fromS, y: "v", text: "name", dx: 4, dy: -7, textAnchor: "start", fill: RED }),
      Plot.ruleY([0], { stroke: "#444" }),
      Plot.rect(bars, { x1: "x1", x2: "x2", y1: "y1", y2: "y2", fill: "colour", stroke: "colour", strokeWidth: 0.8 }),
      Plot.text(ROWS, {
        x: fromS,
        y: (_: unknown, i: number) => -(i + 1) * rowV,
        text: "name",
        dx: -8,
        textAnchor: "end",
        fill: "colour",
      }),
      Plot.line(line, { x: "s", y: "v", stroke: BLUE, strokeWidth: 1.6 }),
    ],
  };
}

const RATE_TICKS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100];
const DISTANCES_M = [0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.7, 1, 1.5, 2, 3];

/** Sustainable rate over power, with the distances of that power along the top and the period asked for as a dashed line. */
export function ratePlot({ values }: BudgetScenario, { rates }: BudgetResult): PlotOptions {
  const points = rates.flatMap(({ powerDbm, rate }) => ("value" in rate ? [{ dbm: powerDbm, rate: rate.value }] : []));
  const asked = 1000 / values["firmware.period_ms"]!;
  const all = [...points.map(({ rate }) => rate), asked];
  const [low, high] = [Math.min(...all) / 1.5, Math.max(...all) * 1.5];
  const [from, to] = [values["answers.power_from_dbm"]!, values["answers.power_to_dbm"]!];
  const distances = DISTANCES_M.map((m) => ({ m, dbm: values["link.power_at_1_m_dbm"]! - 20 * Math.log10(m) })).filter(
    ({ dbm }) => dbm >= from && dbm <= to,
  );
  return {
    ...SIZE,
    height: 420,
    marginTop: 50,
    x: { label: "power at the chip in dBm", domain: [from, to], grid: true },
    y: {
      type: "log",
      label: "frames a second",
      domain: [low, high],
      grid: true,
    },
    marks: [
      Plot.axisY(
        RATE_TICKS.filter((rate) => rate >= low && rate <= high),
        { text: (rate: number) => `${rate}` },
      ),
      Plot.ruleY([asked], { stroke: RED, strokeDasharray: "5,4" }),
      Plot.text([0], {
        x: from,
        y: asked,
        text: () => `the period asked for: ${figure(asked)} a second`,
        dx: 6,
        dy: -8,
        textAnchor: "start",
        fill: RED,
      }),
      Plot.line(points, { x: "dbm", y: "rate", stroke: BLUE, strokeWidth: 2 }),
      Plot.dot(points, { x: "dbm", y: "rate", fill: BLUE, r: 2.5 }),
      Plot.text(distances, { x: "dbm", y: high, text: ({ m }: { m: number }) => `${m} m`, dy: -9, fill: "#555" }),
      Plot.ruleX(distances, { x: "dbm", y1: high, y2: high / 1.12, stroke: "#555" }),
    ],
  };
}

const BARS = 12;

/** Bars of one answer, longest at the top. */
export function tornadoPlot(result: BudgetResult, at: number): PlotOptions {
  const { text, unit, scale } = result.questions[at]!;
  const answer = result.answers[at]!;
  const base = "value" in answer ? answer.value * scale : 0;
  const bars = result.tornados[at]!.slice(0, BARS).flatMap((bar) =>
    [
      { name: bar.path, tried: bar.low, value: bar.atLow, colour: BLUE },
      { name: bar.path, tried: bar.high, value: bar.atHigh, colour: "#e08e2b" },
    ].map(({ value, ...rest }) => ({ ...rest, value: value === null ? null : value * scale })),
  );
  const shown = bars.flatMap((bar) => (bar.value === null ? [] : [{ ...bar, value: bar.value }]));
  const gap = Math.max(1e-9, ...shown.map(({ value }) => Math.abs(value - base))) * 0.012;
  return {
    ...SIZE,
    height: 90 + 30 * Math.max(1, new Set(bars.map(({ name }) => name)).size),
    marginLeft: 210,
    marginRight: 90,
    insetLeft: 60,
    x: { label: `${text} in ${unit}`, grid: true },
    y: { label: null, domain: [...new Set(bars.map(({ name }) => name))] },
    marks: [
      Plot.rect(shown, { x1: base, x2: "value", y: "name", fill: "colour", insetTop: 3, insetBottom: 3 }),
      Plot.text(shown, {
        x: ({ value }: { value: number }) => value + (value < base ? -gap : gap),
        y: "name",
        text: ({ tried }: { tried: number }) => figure(tried),
        textAnchor: "start",
        filter: ({ value }: { value: number }) => value >= base,
        fill: "#444",
      }),
      Plot.text(shown, {
        x: ({ value }: { value: number }) => value - gap,
        y: "name",
        text: ({ tried }: { tried: number }) => figure(tried),
        textAnchor: "end",
        filter: ({ value }: { value: number }) => value < base,
        fill: "#444",
      }),
      Plot.text(
        bars.filter(({ value }) => value === null),
        { x: base, y: "name", text: ({ tried }: { tried: number }) => `none at ${figure(tried)}`, fill: RED },
      ),
      Plot.ruleX([base], { stroke: "#222" }),
    ],
  };
}
