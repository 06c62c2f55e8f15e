/** The plots of a calibration certificate, as SVG. */
import * as Plot from "@observablehq/plot";
import { PASCAL_PER_MMHG } from "../readings/pressure.ts";
import { plotSvg } from "../report/plot.ts";
import type { Certificate } from "./certificate.ts";

/** Told apart on white and on black and by most colour-blind eyes; more plateaus begin anew. */
const COLOURS = ["#2f7fc1", "#d5741c", "#1f9d78", "#b457a0"] as const;
const SIZE = { width: 372, height: 214, marginLeft: 44, marginRight: 14, marginTop: 26, marginBottom: 34 } as const;
const ZERO = { stroke: "currentColor", strokeOpacity: 0.5 } as const;

export function plateauColour(plateau: number): string {
  return COLOURS[plateau % COLOURS.length]!;
}

/** Error of every calibrated point over the reference, with the expanded uncertainty of a later reading as a band. */
export function errorPlot({ run, budget }: Certificate): string {
  const points = run.points.map((point) => ({
    reference: point.reference_pa / PASCAL_PER_MMHG,
    error: point.error_pa / PASCAL_PER_MMHG,
    plateau: point.plateau,
    up: point.direction === "up",
  }));
  const references = points.map(({ reference }) => reference);
  const u = budget.expanded_mmhg;
  const band = u === null ? [] : [{ x1: Math.min(0, ...references), x2: Math.max(1, ...references), y1: -u, y2: u }];
  return plotSvg({
    ...SIZE,
    x: { label: "reference in mmHg", labelArrow: "none", labelAnchor: "center" },
    y: { label: "reading less reference in mmHg", labelArrow: "none", grid: true, nice: true },
    marks: [
      Plot.rect(band, { x1: "x1", x2: "x2", y1: "y1", y2: "y2", fill: "currentColor", fillOpacity: 0.07 }),
      Plot.ruleY([0], ZERO),
      ...[true, false].map((up) =>
        Plot.dot(
          points.filter((point) => point.up === up),
          {
            x: "reference",
            y: "error",
            stroke: ({ plateau }: { plateau: number }) => plateauColour(plateau),
            symbol: "triangle",
            rotate: up ? 0 : 180,
            r: 2.6,
            strokeWidth: 1.1,
          },
        ),
      ),
    ],
    color: { type: "identity" },
  });
}

/** How far temperature alone moves an unloaded reading: bound of a rigid sealed cell, and this cell before correction. */
export function temperaturePlot({ temperature_alone: { rows, reference_cel } }: Certificate): string {
  const last = rows.at(-1)!;
  const fitted = rows.flatMap((row) => (row.fitted_mmhg === null ? [] : [{ ...row, fitted_mmhg: row.fitted_mmhg }]));
  return plotSvg({
    ...SIZE,
    marginRight: 92,
    x: { label: "temperature in °C", labelArrow: "none", labelAnchor: "center", ticks: 7 },
    y: { label: "change of the reading in mmHg", labelArrow: "none", grid: true, nice: true },
    marks: [
      Plot.ruleY([0], ZERO),
      Plot.ruleX([reference_cel], { ...ZERO, strokeDasharray: "2,3" }),
      Plot.line(rows, { x: "temperature_cel", y: "sealed_gas_mmhg", stroke: "#c04848", strokeDasharray: "5,3" }),
      Plot.line(fitted, { x: "temperature_cel", y: "fitted_mmhg", stroke: "#2f7fc1", strokeWidth: 1.8 }),
      Plot.text([{ ...last, text: "rigid sealed\ncell (bound)" }], {
        x: "temperature_cel",
        y: "sealed_gas_mmhg",
        text: "text",
        textAnchor: "start",
        dx: 5,
        dy: 4,
        fill: "#c04848",
      }),
      Plot.text(fitted.length === 0 ? [] : [{ ...fitted.at(-1)!, text: "this cell,\nuncorrected" }], {
        x: "temperature_cel",
        y: "fitted_mmhg",
        text: "text",
        textAnchor: "start",
        dx: 5,
        fill: "#2f7fc1",
      }),
    ],
  });
}

/** Standard uncertainty of each contribution. */
export function budgetPlot({ budget }: Certificate): string {
  const bars = budget.contributions.flatMap(({ id, standard_uncertainty_pa: u }) =>
    u === null ? [] : [{ what: id.replaceAll("_", " "), u: u / PASCAL_PER_MMHG }],
  );
  const order = [...bars].sort((a, b) => b.u - a.u).map(({ what }) => what);
  return plotSvg({
    ...SIZE,
    marginLeft: 148,
    marginRight: 34,
    x: { label: "standard uncertainty in mmHg", labelArrow: "none", labelAnchor: "center", grid: true, nice: true },
    y: { label: null, domain: order, padding: 0.25, tickSize: 0 },
    marks: [
      Plot.barX(bars, { x: "u", y: "what", fill: "#2f7fc1" }),
      Plot.text(bars, { x: "u", y: "what", text: ({ u }: { u: number }) => u.toFixed(3), textAnchor: "start", dx: 4 }),
    ],
  });
}

/** How the cell itself departs from the line through its end points, going up and down. */
export function linearityPlot({ run, errors }: Certificate): string {
  const counts = new Map<number, number>();
  for (const { plateau } of run.points) counts.set(plateau, (counts.get(plateau) ?? 0) + 1);
  const main = [...counts].sort((a, b) => b[1] - a[1])[0]![0];
  const some = run.points.filter(({ plateau }) => plateau === main);
  const difference = (point: (typeof some)[number]) => point.sensor_pa - point.ambient_pa;
  const ends = [...some].sort((a, b) => a.reference_pa - b.reference_pa);
  const [low, high] = [ends[0]!, ends.at(-1)!];
  const slope = (difference(high) - difference(low)) / (high.reference_pa - low.reference_pa || 1);
  const points = some.map((point) => ({
    reference: point.reference_pa / PASCAL_PER_MMHG,
    off: (difference(point) - difference(low) - slope * (point.reference_pa - low.reference_pa)) / PASCAL_PER_MMHG,
    direction: point.direction,
    cycle: point.cycle,
  }));
  const colour = plateauColour(main);
  return plotSvg({
    ...SIZE,
    x: { label: "reference in mmHg", labelArrow: "none", labelAnchor: "center" },
    y: {
      label: `cell less terminal line in mmHg${errors.hysteresis ? ", up solid, down dashed" : ""}`,
      labelArrow: "none",
      grid: true,
    },
    marks: [
      Plot.ruleY([0], ZERO),
      ...["up", "down"].map((direction) =>
        Plot.line(
          points.filter((point) => point.direction === direction),
          {
            x: "reference",
            y: "off",
            z: "cycle",
            stroke: colour,
            strokeWidth: 1.2,
            strokeDasharray: direction === "up" ? "none" : "4,3",
          },
        ),
      ),
    ],
  });
}
