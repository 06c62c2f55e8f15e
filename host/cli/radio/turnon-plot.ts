/** Picture of a turn-on sweep: realised gain with its uncertainty over frequency, and the model's. */
import * as Plot from "@observablehq/plot";
import type { PlotOptions } from "../../report/plot.ts";
import { legend } from "./match-plots.ts";
import type { SweepResult } from "./turnon-result.ts";
import type { TurnOnScenario } from "./turnon-scenario.ts";

const MEASURED = "#1f5fa8";
const MODEL = "#b0622e";

export function gainPlot({ rule }: TurnOnScenario, { rows, modelDbi }: SweepResult): PlotOptions {
  const points = rows.map(({ row, realisedGainDbi, realisedGainExpandedDb }) => ({
    mhz: row.frequencyHz / 1e6,
    gain: realisedGainDbi,
    low: realisedGainDbi - realisedGainExpandedDb,
    high: realisedGainDbi + realisedGainExpandedDb,
  }));
  const [first, last] = [points[0]!.mhz, points.at(-1)!.mhz];
  const spread = Math.max(1, (last - first) * 0.03);
  const domain = [first - spread, last + spread] as const;
  const model = Array.from({ length: 241 }, (_, i) => domain[0] + ((domain[1] - domain[0]) * i) / 240).flatMap(
    (mhz) => {
      const gain = modelDbi(mhz * 1e6);
      return gain === null ? [] : [{ mhz, gain }];
    },
  );
  const ends = [...points.flatMap(({ low, high }) => [low, high]), ...model.map(({ gain }) => gain)];
  const [low, high] = [Math.floor(Math.min(...ends)), Math.ceil(Math.max(...ends)) + 1];
  const band = [Math.max(domain[0], rule.lowHz / 1e6), Math.min(domain[1], rule.highHz / 1e6)] as const;
  const stripe = band[0] < band[1] ? [0] : [];
  return {
    width: 720,
    height: 400,
    marginLeft: 50,
    marginRight: 20,
    marginTop: 34,
    marginBottom: 42,
    x: { label: "frequency in MHz", domain: [...domain], grid: true },
    y: { label: "realised gain in dBi", domain: [low, high], grid: true },
    marks: [
      Plot.rect(stripe, { x1: band[0], x2: band[1], y1: low, y2: high, fill: "#f2c14e", fillOpacity: 0.35 }),
      Plot.text(stripe, { x: (band[0] + band[1]) / 2, y: high, text: () => "band", dy: -7 }),
      Plot.line(model, { x: "mhz", y: "gain", stroke: MODEL, strokeWidth: 2 }),
      Plot.link(points, { x: "mhz", y1: "low", y2: "high", stroke: MEASURED, strokeOpacity: 0.6 }),
      Plot.dot(points, { x: "mhz", y: "gain", fill: MEASURED, r: 3.5 }),
      ...legend(
        [
          { name: "measured, ± U (k = 2)", colour: MEASURED },
          { name: "model", colour: MODEL },
        ],
        domain[1],
      ),
    ],
  };
}
