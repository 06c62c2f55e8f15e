/** The plot of all chosen sites: uPlot draws axes and lines, the rest is drawn over it. */
import uPlot from "uplot";
import type { Text } from "../text/text.ts";
import type { Lines } from "./lines.ts";
import type { SiteStyle } from "./site-style.ts";
import { spread } from "./spread.ts";

export interface PlotSite {
  readonly label: string;
  readonly style: SiteStyle;
}

export interface PlotMark {
  readonly timeS: number;
  readonly label: string;
}

export interface PlotContent {
  readonly lines: Lines;
  readonly fromS: number;
  readonly toS: number;
  /** Highest pressure that must have room. */
  readonly highestMmhg: number;
  readonly lowestMmhg: number;
  /** Hatched; null: no range, or more than one. */
  readonly range: readonly [lowMmhg: number, highMmhg: number] | null;
  readonly marks: readonly PlotMark[];
  /** Where values are read; null: nowhere. */
  readonly readingS: number | null;
}

export interface Plot {
  readonly sites: readonly PlotSite[];
  draw(content: PlotContent): void;
  resize(width: number, height: number): void;
  /** Width of the part where the lines are, in CSS pixels. */
  readonly innerWidth: number;
  /** Session time at a place on the screen. */
  timeAt(clientX: number): number;
  destroy(): void;
}

/** Width on a sheet of A4 within its margins, in CSS pixels: a canvas does not follow the sheet by itself. */
const PAPER_WIDTH = 690;

/** More lines than these are thin: they lie close, and a processor that draws alone needs several times as long for wider ones. */
const MANY = 6;

const FONT = "system-ui, sans-serif";

/** Colours are read from the palette when the plot is made: make it anew when the light changes. */
export function makePlot(host: HTMLElement, sites: readonly PlotSite[], text: Text): Plot {
  const colours = getComputedStyle(document.documentElement);
  const colour = (name: string) => colours.getPropertyValue(name).trim();
  const [ink, soft, thread, press] = [colour("--ink"), colour("--soft"), colour("--thread"), colour("--press")];
  let content: PlotContent | null = null;

  const axis: uPlot.Axis = {
    stroke: soft,
    font: `13px ${FONT}`,
    grid: { stroke: thread, width: 0.5, dash: [1, 5] },
    ticks: { stroke: thread, width: 1, size: 5 },
  };
  const width = sites.length > MANY ? 1 : 2;
  const series: uPlot.Series[] = sites.flatMap(({ style }) => [
    { stroke: colour(style.colour), width, dash: [...style.dash], points: { show: false } },
    { stroke: colour(style.colour), width: 1.2, dash: [1.5, 4], points: { show: false } },
  ]);
  const plot = new uPlot(
    {
      width: matchMedia("print").matches ? PAPER_WIDTH : Math.max(100, host.clientWidth),
      height: Math.max(100, host.clientHeight),
      padding: [26, 78, 0, 0],
      legend: { show: false },
      cursor: { show: false },
      scales: {
        x: { time: false, range: () => [content?.fromS ?? 0, content?.toS ?? 1] },
        y: { range: () => pressureRange(content) },
      },
      axes: [
        {
          ...axis,
          values: (_plot, splits) =>
            splits.map((timeS) => text.time(timeS, splits.length > 1 && splits[1]! - splits[0]! < 1 ? 1 : 0)),
        },
        { ...axis, size: 44, values: (_plot, splits) => splits.map((mmhg) => text.number(mmhg, 0)) },
      ],
      series: [{}, ...series],
      hooks: {
        drawClear: [(self) => content && hatchRange(self, content, press)],
        draw: [
          (self) => {
            if (!content) return;
            drawUnit(self, text.say("now.mmhg"), soft);
            drawMarks(self, content, ink, soft);
            drawEnds(self, content, sites, colour, ink);
          },
        ],
      },
    },
    [[]],
    host,
  );

  return {
    sites,
    draw(next) {
      content = next;
      plot.setData(next.lines as uPlot.AlignedData, true);
    },
    resize(width, height) {
      if (plot.width !== width || plot.height !== height) plot.setSize({ width, height });
    },
    get innerWidth() {
      return Math.max(1, plot.bbox.width / uPlot.pxRatio);
    },
    timeAt: (clientX) => plot.posToVal(clientX - plot.over.getBoundingClientRect().left, "x"),
    destroy: () => plot.destroy(),
  };
}

/** From 0, or below what went below it, to the next ten above the highest. */
function pressureRange(content: PlotContent | null): [number, number] {
  if (!content) return [0, 60];
  return [
    Math.min(0, Math.floor(content.lowestMmhg / 10) * 10),
    Math.max(60, Math.ceil((content.highestMmhg + 2) / 10) * 10),
  ];
}

function hatchRange(plot: uPlot, { range }: PlotContent, stroke: string): void {
  if (!range) return;
  const { ctx, bbox } = plot;
  const [bottom, top] = range.map((mmhg) => plot.valToPos(mmhg, "y", true)) as [number, number];
  const ratio = uPlot.pxRatio;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, top, bbox.width, bottom - top);
  ctx.clip();
  ctx.strokeStyle = stroke;
  ctx.lineWidth = 0.6 * ratio;
  ctx.globalAlpha = 0.6;
  ctx.beginPath();
  for (let x = bbox.left - (bottom - top); x < bbox.left + bbox.width; x += 9 * ratio) {
    ctx.moveTo(x, bottom);
    ctx.lineTo(x + bottom - top, top);
  }
  for (const y of [bottom, top]) {
    ctx.moveTo(bbox.left, y);
    ctx.lineTo(bbox.left + bbox.width, y);
  }
  ctx.stroke();
  ctx.restore();
}

/** The unit, above the figures of the axis. */
function drawUnit({ ctx, bbox }: uPlot, unit: string, colour: string): void {
  ctx.save();
  ctx.font = `${12 * uPlot.pxRatio}px ${FONT}`;
  ctx.textBaseline = "bottom";
  ctx.textAlign = "right";
  ctx.fillStyle = colour;
  ctx.fillText(unit, bbox.left - 4 * uPlot.pxRatio, bbox.top - 7 * uPlot.pxRatio);
  ctx.restore();
}

/** Marks as dashed lines with their word above the plot; the place of reading as a whole line. */
function drawMarks(plot: uPlot, { marks, readingS, fromS, toS }: PlotContent, ink: string, soft: string): void {
  const { ctx, bbox } = plot;
  const ratio = uPlot.pxRatio;
  ctx.save();
  ctx.font = `600 ${12 * ratio}px ${FONT}`;
  ctx.textBaseline = "bottom";
  ctx.textAlign = "left";
  let freeFrom = Number.NEGATIVE_INFINITY;
  for (const { timeS, label } of marks) {
    if (timeS < fromS || timeS > toS) continue;
    const x = plot.valToPos(timeS, "x", true);
    vertical(ctx, x, bbox, ink, [4 * ratio, 4 * ratio], 1.2 * ratio);
    ctx.fillStyle = ink;
    ctx.fillRect(x - 3 * ratio, bbox.top - 4 * ratio, 6 * ratio, 6 * ratio);
    const width = ctx.measureText(label).width;
    const left = Math.max(0, Math.min(x - width / 2, ctx.canvas.width - width));
    // A word that would lie over the one before it is left to the list below the plot.
    if (left < freeFrom) continue;
    ctx.fillText(label, left, bbox.top - 6 * ratio);
    freeFrom = left + width + 6 * ratio;
  }
  if (readingS !== null && readingS >= fromS && readingS <= toS) {
    vertical(ctx, plot.valToPos(readingS, "x", true), bbox, soft, [], 1.5 * ratio);
  }
  ctx.restore();
}

function vertical(
  ctx: CanvasRenderingContext2D,
  x: number,
  bbox: uPlot.BBox,
  stroke: string,
  dash: number[],
  width: number,
): void {
  ctx.strokeStyle = stroke;
  ctx.lineWidth = width;
  ctx.setLineDash(dash);
  ctx.beginPath();
  ctx.moveTo(x, bbox.top);
  ctx.lineTo(x, bbox.top + bbox.height);
  ctx.stroke();
  ctx.setLineDash([]);
}

/** Shape and name of each site at the last sample that is drawn, names moved apart where they would meet. */
function drawEnds(
  plot: uPlot,
  { lines }: PlotContent,
  sites: readonly PlotSite[],
  colour: (name: string) => string,
  ink: string,
): void {
  const { ctx, bbox } = plot;
  const ratio = uPlot.pxRatio;
  const [times] = lines;
  const ends = sites.flatMap((site, i) => {
    const row = lastRow(lines[2 * i + 1] ?? [], lines[2 * i + 2] ?? []);
    if (row < 0) return [];
    const value = (lines[2 * i + 1]![row] ?? lines[2 * i + 2]![row])!;
    const x = Math.min(plot.valToPos(times[row]!, "x", true), bbox.left + bbox.width);
    const y = plot.valToPos(value, "y", true);
    return x < bbox.left ? [] : [{ site, x, y }];
  });
  ends.sort((a, b) => a.y - b.y);
  const places = spread(
    ends.map(({ y }) => y),
    bbox.top,
    bbox.top + bbox.height,
    15 * ratio,
  );
  ctx.save();
  ctx.font = `600 ${13 * ratio}px ${FONT}`;
  ctx.textBaseline = "middle";
  ctx.textAlign = "left";
  for (const [i, { site, x, y }] of ends.entries()) {
    const at = places[i]!;
    ctx.save();
    ctx.translate(x - 6 * ratio, y - 6 * ratio);
    ctx.scale(ratio, ratio);
    ctx.fillStyle = colour(site.style.colour);
    ctx.fill(new Path2D(site.style.shape));
    ctx.restore();
    ctx.strokeStyle = colour(site.style.colour);
    ctx.lineWidth = ratio;
    ctx.beginPath();
    ctx.moveTo(x + 6 * ratio, y);
    ctx.lineTo(x + 12 * ratio, at);
    ctx.stroke();
    ctx.fillStyle = ink;
    ctx.fillText(shortened(ctx, site.label, ctx.canvas.width - x - 15 * ratio), x + 14 * ratio, at);
  }
  ctx.restore();
}

function lastRow(known: Lines[number], unsure: Lines[number]): number {
  for (let row = known.length - 1; row >= 0; row--) {
    if (typeof known[row] === "number" || typeof unsure[row] === "number") return row;
  }
  return -1;
}

function shortened(ctx: CanvasRenderingContext2D, label: string, width: number): string {
  if (ctx.measureText(label).width <= width) return label;
  // The end of an EPC tells tags apart, the beginning of a name sites.
  const isEpc = label.startsWith("…");
  let kept = isEpc ? label.slice(1) : label;
  const marked = () => (isEpc ? `…${kept}` : `${kept}…`);
  while (kept.length > 1 && ctx.measureText(marked()).width > width) kept = isEpc ? kept.slice(1) : kept.slice(0, -1);
  return marked();
}
