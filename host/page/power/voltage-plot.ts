/** The store's voltage over time, and under it the states of the firmware, a row each. */
import { curveOf, type StateName, states } from "../../../sim/index.ts";
import { el, svg } from "../dom/element.ts";
import type { PlainKey, Text } from "../text/text.ts";
import type { Drawn, PowerFigures } from "./figures.ts";
import { patternDefs } from "./state-pattern.ts";

const CURVE_HEIGHT = 210;
const ROW_HEIGHT = 20;
const MARGIN = { left: 92, right: 46, top: 14, axis: 22 } as const;
/** A state that is too short to be seen is drawn this wide. */
const LEAST_WIDTH = 1.5;

/** How often a state was entered in a window, and for how long in all. */
export interface StateShare {
  readonly name: StateName;
  readonly times: number;
  readonly seconds: number;
}

export function sharesOf({ moments }: Drawn): readonly StateShare[] {
  return states.map(({ name, has }) => {
    const stays = staysIn(moments, has);
    return { name, times: stays.length, seconds: stays.reduce((sum, { fromS, toS }) => sum + toS - fromS, 0) };
  });
}

/** Times spent in some activities; moments that follow one another without a break are one stay. */
function staysIn(moments: Drawn["moments"], activities: readonly string[]) {
  const stays: { fromS: number; toS: number }[] = [];
  for (const { fromS, toS, activity } of moments) {
    if (!activities.includes(activity)) continue;
    const last = stays.at(-1);
    if (last && fromS - last.toS < 1e-12) last.toS = toS;
    else stays.push({ fromS, toS });
  }
  return stays;
}

/** The voltages that decide, highest first. */
function levelsOf({ supervisorOnV, sampleV, supervisorOffV }: PowerFigures) {
  return [
    { v: supervisorOnV, key: "power.level.on" },
    { v: sampleV, key: "power.level.sample" },
    { v: supervisorOffV, key: "power.level.off" },
  ] as const;
}

/** Under the drawing: what goes across it, and what the dashed lines are. */
export function plotCaption(figures: PowerFigures, text: Text): string {
  const [on, sample, off] = levelsOf(figures).map(({ v, key }) => `${text.say(key)} ${text.number(v, 1)} V`);
  return text.say("power.axis", { on: on!, sample: sample!, off: off! });
}

/** From 0 while the store fills, else from the half volt under what is drawn; up to the half volt over it. */
function scaleOf(
  lowest: number,
  highest: number,
  { supervisorOnV, supervisorOffV }: PowerFigures,
): readonly [number, number] {
  const low = Math.floor((Math.min(lowest, supervisorOffV) - 0.1) * 2) / 2;
  return [lowest < 1 ? 0 : Math.max(0, low), Math.ceil((Math.max(highest, supervisorOnV) + 0.1) * 2) / 2];
}

function voltTicks(low: number, high: number): number[] {
  return Array.from({ length: Math.round((high - low) * 2) + 1 }, (_, i) => low + i / 2);
}

/** `width` in CSS pixels: the drawing is made anew for another one, so that its letters stay as large as the page's. */
export function voltagePlot(drawn: Drawn, figures: PowerFigures, width: number, text: Text): SVGElement {
  const { fromS, toS, moments } = drawn;
  const inner = Math.max(60, width - MARGIN.left - MARGIN.right);
  const height = MARGIN.top + CURVE_HEIGHT + 10 + states.length * ROW_HEIGHT + MARGIN.axis;
  const points = moments.flatMap(curveOf);
  const levels = levelsOf(figures);
  const x = (s: number) => MARGIN.left + ((s - fromS) / (toS - fromS)) * inner;
  const [lowest, highest] = [Math.min(...points.map(({ v }) => v)), Math.max(...points.map(({ v }) => v))];
  const [lowV, highV] = scaleOf(lowest, highest, figures);
  const y = (v: number) => MARGIN.top + CURVE_HEIGHT * (1 - (v - lowV) / (highV - lowV));
  const rowsTop = MARGIN.top + CURVE_HEIGHT + 10;
  const right = MARGIN.left + inner;
  const range = {
    from: text.number(fromS, 2),
    to: text.number(toS, 2),
    low: text.number(lowest, 2),
    high: text.number(highest, 2),
  };
  return svg(
    "svg",
    {
      class: "voltage-plot",
      role: "img",
      "aria-label": text.say("power.plot", range),
      width,
      height,
      viewBox: `0 0 ${width} ${height}`,
    },
    patternDefs("state"),
    ...voltTicks(lowV, highV).flatMap((v) => [
      svg("path", { class: "grid", d: `M${MARGIN.left} ${y(v)}H${right}` }),
      svg("text", { class: "tick", x: MARGIN.left - 6, y: y(v) + 4, "text-anchor": "end" }, `${text.number(v, 1)} V`),
    ]),
    ...levels.map(({ v }) => svg("path", { class: "level", d: `M${MARGIN.left} ${y(v)}H${right}` })),
    svg("path", { class: "curve", d: pathOf(points.map(({ s, v }) => [x(s), y(v)])) }),
    ...levels.map(({ v }) => svg("text", { class: "level-name", x: right + 4, y: y(v) + 4 }, `${text.number(v, 1)} V`)),
    ...states.flatMap(({ name, has }, row) => {
      const top = rowsTop + row * ROW_HEIGHT;
      const own = staysIn(moments, has);
      return [
        svg(
          "text",
          { class: "state-name", x: MARGIN.left - 24, y: top + 14, "text-anchor": "end" },
          text.say(`power.state.${name}` as PlainKey),
        ),
        box(name, MARGIN.left - 18, top + 3, 13),
        svg("path", { class: "grid", d: `M${MARGIN.left} ${top + ROW_HEIGHT}H${right}` }),
        ...own.map((moment) =>
          box(name, x(moment.fromS), top + 3, Math.max(LEAST_WIDTH, x(moment.toS) - x(moment.fromS))),
        ),
      ];
    }),
    ...ticksOf(fromS, toS, Math.max(2, Math.floor(inner / 65))).map(({ s, digits }) =>
      svg("text", { class: "tick", x: x(s), y: height - 6, "text-anchor": "middle" }, text.number(s, digits)),
    ),
  );
}

function box(name: StateName, x: number, y: number, width: number): SVGElement {
  const place = { x: x.toFixed(2), y, width: width.toFixed(2), height: ROW_HEIGHT - 6 };
  // So narrow a box has no room for its pattern: its row tells it.
  return svg("rect", {
    ...place,
    class: `state state-${name}`,
    fill: width < 4 ? "currentColor" : `url(#state-${name})`,
  });
}

/** A path through the points; those that lie within a tenth of a pixel of the one before are left out. */
function pathOf(points: readonly (readonly [x: number, y: number])[]): string {
  let [lastX, lastY] = [Number.NaN, Number.NaN];
  const parts: string[] = [];
  for (const [i, [x, y]] of points.entries()) {
    if (i < points.length - 1 && Math.abs(x - lastX) < 0.1 && Math.abs(y - lastY) < 0.1) continue;
    parts.push(`${parts.length === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`);
    [lastX, lastY] = [x, y];
  }
  return parts.join("");
}

/** Round times, at most `most` of them, with the decimals that tell them apart. */
export function ticksOf(
  from: number,
  to: number,
  most: number,
): readonly { readonly s: number; readonly digits: number }[] {
  const rough = (to - from) / most;
  const decade = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((one) => one * decade).find((one) => one >= rough * (1 - 1e-9))!;
  const digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const first = Math.ceil(from / step - 1e-9);
  const last = Math.floor(to / step + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, i) => ({ s: (first + i) * step, digits }));
}

/** The same as a table, for those who do not see the drawing. */
export function statesTable(drawn: Drawn, text: Text): HTMLElement {
  const heads = ["power.state", "power.state.times", "power.state.seconds"] as const;
  return el(
    "table",
    { class: "fields" },
    el("thead", {}, el("tr", {}, ...heads.map((key) => el("th", { scope: "col" }, text.say(key))))),
    el(
      "tbody",
      {},
      ...sharesOf(drawn).map(({ name, times, seconds }) =>
        el(
          "tr",
          {},
          el("th", { scope: "row" }, text.say(`power.state.${name}` as PlainKey)),
          el("td", { class: "number" }, String(times)),
          el("td", { class: "number" }, text.number(seconds * 1000, 1)),
        ),
      ),
    ),
  );
}
