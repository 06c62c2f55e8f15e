/** What the tag gave over what was applied, and under it what the fitted calibration leaves over. */
import type { CalibrationFit, CalibrationPoint } from "../../view/messages.ts";
import { svg } from "../dom/element.ts";
import type { Text } from "../text/text.ts";

const MARGIN = { left: 54, right: 12, top: 18 } as const;
const UPPER = 190;
const GAP = 34;
const LOWER = 110;
const AXIS = 24;

/** Up, down: triangles that point so; hollow where the load had not settled. */
const SHAPES = { up: "M0-5 5 4H-5z", down: "M0 5 5-4H-5z" } as const;

/** The fitted calibration as far as the points show it: what it reads, and what the tag gave for that. */
export function fittedCurve(
  points: readonly CalibrationPoint[],
): readonly (readonly [readMmhg: number, gaveMmhg: number])[] {
  return points
    .flatMap(({ reference_mmhg, sensor_gauge_mmhg, residual_mmhg }) =>
      residual_mmhg === null ? [] : [[reference_mmhg + residual_mmhg, sensor_gauge_mmhg] as const],
    )
    .sort(([a], [b]) => a - b);
}

/** Half the height of the residuals' plot: never so small that noise looks like an error. */
export function residualSpan(points: readonly CalibrationPoint[], expandedMmhg: number | null): number {
  const largest = Math.max(0.2, expandedMmhg ?? 0, ...points.map(({ residual_mmhg }) => Math.abs(residual_mmhg ?? 0)));
  return largest * 1.25;
}

export function fitPlots(
  points: readonly CalibrationPoint[],
  fit: CalibrationFit | null,
  width: number,
  text: Text,
): SVGElement {
  const inner = Math.max(60, width - MARGIN.left - MARGIN.right);
  const right = MARGIN.left + inner;
  const highest = 1.08 * Math.max(10, ...points.map(({ reference_mmhg }) => reference_mmhg));
  const [lowY, highY] = [Math.min(0, ...points.map(gave)), 1.08 * Math.max(10, ...points.map(gave))];
  const expanded = fit?.budget.expanded_mmhg ?? null;
  const span = residualSpan(points, expanded);
  const top = MARGIN.top + UPPER + GAP;
  const height = top + LOWER + AXIS;
  const x = (mmhg: number) => MARGIN.left + (mmhg / highest) * inner;
  const y = (mmhg: number) => MARGIN.top + UPPER * (1 - (mmhg - lowY) / (highY - lowY));
  const r = (mmhg: number) => top + (LOWER / 2) * (1 - mmhg / span);
  const mark = (point: CalibrationPoint, at: number) =>
    svg("path", {
      class: `point${point.unsettled ? " point-unsettled" : ""}`,
      d: SHAPES[point.direction],
      transform: `translate(${x(point.reference_mmhg).toFixed(1)} ${at.toFixed(1)})`,
    });
  const line = (kind: string, at: number) =>
    svg("path", { class: kind, d: `M${MARGIN.left} ${at.toFixed(1)}H${right}` });
  const word = (kind: string, at: readonly [number, number], anchor: string, says: string) =>
    svg("text", { class: kind, x: at[0].toFixed(1), y: at[1].toFixed(1), "text-anchor": anchor }, says);
  const tick = (at: number, says: string) => word("tick", [MARGIN.left - 6, at + 4], "end", says);
  const fitted = fittedCurve(points);
  const path = fitted
    .map(([read, was], i) => `${i === 0 ? "M" : "L"}${x(read).toFixed(1)} ${y(was).toFixed(1)}`)
    .join("");
  const says = { count: String(points.length), span: text.number(span, 2) };
  return svg(
    "svg",
    {
      class: "fit-plots",
      role: "img",
      "aria-label": text.say("calibrate.plot", says),
      width,
      height,
      viewBox: `0 0 ${width} ${height}`,
    },
    word("level-name", [MARGIN.left, 11], "start", text.say("calibrate.plot.gave")),
    ...roundsOf(highY).flatMap((mmhg) => [line("grid", y(mmhg)), tick(y(mmhg), text.number(mmhg, 0))]),
    svg("path", { class: "curve", d: path }),
    ...points.map((point) => mark(point, y(gave(point)))),
    word("level-name", [MARGIN.left, top - 8], "start", text.say("calibrate.plot.left")),
    ...(expanded === null
      ? []
      : [
          line("level", r(expanded)),
          line("level", r(-expanded)),
          word("level-name", [right, r(expanded) - 3], "end", text.say("calibrate.plot.u")),
        ]),
    line("grid", r(0)),
    tick(r(0), "0"),
    tick(r(span * 0.8), text.number(span * 0.8, 2)),
    tick(r(-span * 0.8), text.number(-span * 0.8, 2)),
    ...points.flatMap((point) => (point.residual_mmhg === null ? [] : [mark(point, r(point.residual_mmhg))])),
    ...roundsOf(highest).map((mmhg) => word("tick", [x(mmhg), height - 6], "middle", text.number(mmhg, 0))),
  );
}

function gave({ sensor_gauge_mmhg }: CalibrationPoint): number {
  return sensor_gauge_mmhg;
}

/** Round values from 0 up, about four of them. */
function roundsOf(highest: number): number[] {
  const step = [5, 10, 20, 25, 50, 100].find((one) => highest / one <= 5.5) ?? 200;
  return Array.from({ length: Math.floor(highest / step) + 1 }, (_, i) => i * step);
}
