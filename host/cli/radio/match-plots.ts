/** Pictures of a match: τ over frequency, power into the chip over distance. */
import * as Plot from "@observablehq/plot";
import { type Condition, chipPowerDbm, frequenciesOf, tauOf } from "../../../sim/index.ts";
import type { PlotOptions } from "../../report/plot.ts";
import type { MatchResult } from "./match-result.ts";
import type { MatchScenario } from "./match-scenario.ts";

const SIZE = { width: 720, height: 400, marginLeft: 50, marginRight: 20, marginTop: 34, marginBottom: 42 } as const;

/** With the chosen inductor and without one, the band as a stripe, the level asked for as a dashed line. */
export function tauPlot(scenario: MatchScenario, { ranked, chosen, middleHz }: MatchResult): PlotOptions {
  const { antenna, band, chipTurnOnDbm, tau } = scenario;
  const shown = {
    lowHz: Math.max(antenna.lowHz, Math.min(middleHz * 0.93, band.lowHz)),
    highHz: Math.min(antenna.highHz, Math.max(middleHz * 1.07, band.highHz)),
  };
  const bare = ranked.find(({ inductor }) => inductor === null)!;
  const nh = chosen.inductor && Number((chosen.inductor.inductanceH * 1e9).toPrecision(6));
  const curves = [
    {
      name: nh === null ? "without an inductor (chosen)" : `with ${nh} nH (chosen)`,
      candidate: chosen,
      colour: "#1f5fa8",
    },
    ...(nh === null ? [] : [{ name: "without an inductor", candidate: bare, colour: "#8a8a8a" }]),
  ].map(({ name, candidate, colour }) => {
    const at = tauOf(scenario, candidate);
    const points = frequenciesOf(shown, 281).map((hz) => ({ mhz: hz / 1e6, tau: at(hz, chipTurnOnDbm), name }));
    return { name, colour, points };
  });
  const [lowMhz, highMhz] = [band.lowHz / 1e6, band.highHz / 1e6];
  return {
    ...SIZE,
    x: { label: "frequency in MHz", domain: [shown.lowHz / 1e6, shown.highHz / 1e6], grid: true },
    y: { label: "power transmission coefficient", domain: [0, 1], grid: true },
    marks: [
      Plot.rect([0], { x1: lowMhz, x2: highMhz, y1: 0, y2: 1, fill: "#f2c14e", fillOpacity: 0.35 }),
      Plot.text([0], { x: (lowMhz + highMhz) / 2, y: 1, text: () => "band", dy: -7 }),
      Plot.ruleY([tau], { stroke: "#b03a2e", strokeDasharray: "5,4" }),
      ...curves.map(({ points, colour }) => Plot.line(points, { x: "mhz", y: "tau", stroke: colour, strokeWidth: 2 })),
      ...legend(curves, shown.highHz / 1e6),
    ],
  };
}

const TICKS_M = [0.02, 0.03, 0.05, 0.1, 0.2, 0.3, 0.5, 1, 2, 3, 5, 10, 20, 30, 50, 100];

/** Dry and wet over distance, the turn-on power as a dashed line, the near field shaded. */
export function distancePlot(scenario: MatchScenario, result: MatchResult): PlotOptions {
  const { links, chipTurnOnDbm } = scenario;
  const tau = tauOf(scenario, result.chosen);
  const farthest = 2 * Math.max(result.budgets.dry.rangeM, scenario.distanceM);
  const nearest = farthest / 20;
  const conditions: readonly { name: Condition; colour: string }[] = [
    { name: "dry", colour: "#1f5fa8" },
    { name: "wet", colour: "#3d9a6c" },
  ];
  const curves = conditions.map(({ name, colour }) => {
    const points = Array.from({ length: 161 }, (_, i) => {
      const m = nearest * (farthest / nearest) ** (i / 160);
      return { m, dbm: chipPowerDbm(links[name], result.budgetHz, m, (dbm) => tau(result.budgetHz, dbm)) };
    });
    return { name, colour, points };
  });
  const levels = curves.flatMap(({ points }) => points.map(({ dbm }) => dbm));
  const [low, high] = [Math.floor(Math.min(...levels) / 5) * 5, Math.ceil(Math.max(...levels) / 5) * 5];
  const near = Math.min(Math.max(result.farFieldFromM, nearest), farthest);
  return {
    ...SIZE,
    x: {
      type: "log",
      label: "distance in m",
      domain: [nearest, farthest],
      grid: true,
      ticks: TICKS_M.filter((m) => m >= nearest && m <= farthest),
      tickFormat: (m: number) => `${m}`,
    },
    y: { label: "power into the chip in dBm", domain: [low, high], grid: true },
    marks: [
      Plot.rect([0], { x1: nearest, x2: near, y1: low, y2: high, fill: "#888888", fillOpacity: 0.18 }),
      Plot.text([0], { x: nearest, y: low, text: () => "near field: not valid", dx: 6, dy: -8, textAnchor: "start" }),
      Plot.ruleY([chipTurnOnDbm], { stroke: "#b03a2e", strokeDasharray: "5,4" }),
      Plot.text([0], {
        x: farthest,
        y: chipTurnOnDbm,
        text: () => "turn-on",
        dx: -4,
        dy: -8,
        textAnchor: "end",
        fill: "#b03a2e",
      }),
      ...curves.map(({ points, colour }) => Plot.line(points, { x: "m", y: "dbm", stroke: colour, strokeWidth: 2 })),
      ...legend(curves, farthest),
    ],
  };
}

/** Names of curves in their colours, in the upper right corner. */
export function legend(curves: readonly { readonly name: string; readonly colour: string }[], x: number) {
  return curves.map(({ name, colour }, i) =>
    Plot.text([0], {
      x,
      text: () => name,
      frameAnchor: "top",
      textAnchor: "end",
      dx: -6,
      dy: 10 + 16 * i,
      fill: colour,
    }),
  );
}
