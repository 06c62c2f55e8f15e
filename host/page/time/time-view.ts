/** Time: what changed, and when? */
import "uplot/dist/uPlot.min.css";
import "../styles/time.css";
import { el, setAttribute, setText, svg } from "../dom/element.ts";
import { onFrame } from "../shell/on-frame.ts";
import type { Mount } from "../shell/view.ts";
import { markName } from "../store/mark-name.ts";
import type { Site } from "../store/site.ts";
import type { Store } from "../store/store.ts";
import type { Text } from "../text/text.ts";
import { listenToGestures } from "./gestures.ts";
import { gapLimitS, linesOf } from "./lines.ts";
import { makePlot, type Plot } from "./plot.ts";
import { siteStyle } from "./site-style.ts";
import { makeMarksList, makeReadingLine, makeSummaryTable } from "./tables.ts";
import { makeTimeTools } from "./time-tools.ts";

/** A plot that is only followed is drawn at most this often. */
const PAUSE_MS = 90;

/** Tables change at most this often: figures that run cannot be read. */
const TABLE_PAUSE_MS = 1000;

export const mount: Mount = (host, store, text) => {
  let readingS: number | null = null;
  let plot: Plot | null = null;
  let [drawnMs, tablesMs, hurry] = [0, 0, true];
  const now = () => {
    hurry = true;
    store.changed();
  };

  const tools = makeTimeTools(store, text, now);
  const chips = el("div", { class: "chips", role: "group", "aria-label": text.say("time.sites") });
  const canvas = el("div", { class: "plot-canvas" });
  const keys = el("p", { class: "soft plot-keys", id: "plot-keys" }, text.say("time.keys"));
  const frame = el("div", { class: "plot", tabindex: 0, role: "application", "aria-describedby": "plot-keys" }, canvas);
  const reading = makeReadingLine(text);
  const summary = makeSummaryTable(text);
  const marks = makeMarksList(store, text);
  const leftOut = el("p", { class: "soft", hidden: true });
  host.append(tools.element, chips, frame, reading.element, summary.element, leftOut, marks.element, keys);

  listenToGestures(frame, {
    move: (share) => act(() => store.window.move(share, store.firstS, store.edgeS)),
    zoom: (factor, clientX) =>
      act(() => {
        const [fromS, toS] = store.window.at(store.firstS, store.edgeS);
        const about = clientX === null || !plot ? 1 : (plot.timeAt(clientX) - fromS) / (toS - fromS);
        store.window.zoom(factor, Math.max(0, Math.min(1, about)), store.firstS, store.edgeS);
      }),
    readAt: (clientX) => act(() => (readingS = plot?.timeAt(clientX) ?? null)),
    step: (by) => act(() => (readingS = neighbour(chosen(store), readingS ?? store.edgeS, by))),
    all: () => act(() => store.window.show(null)),
    follow: () => act(() => store.window.follow()),
    width: () => plot?.innerWidth ?? 1,
  });
  function act(change: () => void): void {
    change();
    now();
  }

  let chipsOf = "";
  const drawChips = () => {
    const key = [...store.sites.values()].map(({ epc, label }) => `${epc} ${label} ${store.hidden.has(epc)}`).join();
    if (key === chipsOf) return;
    chipsOf = key;
    const focused = document.activeElement?.getAttribute("data-chip");
    chips.replaceChildren(...[...store.sites.values()].map((site, i) => chip(site, i, store, now)));
    if (focused) chips.querySelector<HTMLElement>(`[data-chip="${focused}"]`)?.focus();
  };

  const drawPlot = (sites: readonly Site[], fromS: number, toS: number) => {
    const order = [...store.sites.keys()];
    const wanted = sites.map(({ epc, label }) => ({ label, style: siteStyle(order.indexOf(epc)) }));
    const same = plot?.sites.map(({ label }) => label).join() === wanted.map(({ label }) => label).join();
    if (!plot || !same) {
      plot?.destroy();
      plot = makePlot(canvas, wanted, text);
    }
    const drawn = sites.map(({ trace, samplingPeriodS }) => ({ trace, gapLimitS: gapLimitS(samplingPeriodS) }));
    const lines = linesOf(drawn, fromS, toS, Math.max(50, Math.round(plot.innerWidth / 1.5)));
    const ranges = new Set(sites.map(({ epc }) => JSON.stringify(store.preferences.rangeOf(epc))));
    const range = ranges.size === 1 && sites[0] ? store.preferences.rangeOf(sites[0].epc) : null;
    const [lowestMmhg, highestMmhg] = extent(lines.slice(1));
    plot.draw({
      lines,
      fromS,
      toS,
      lowestMmhg,
      highestMmhg: Math.max(highestMmhg, range?.highMmhg ?? 0),
      range: range ? [range.lowMmhg, range.highMmhg] : null,
      marks: store.marks.map((mark) => ({ timeS: mark.time_s, label: markName(mark, text) })),
      readingS,
    });
  };

  const draw = () => {
    const nowMs = performance.now();
    if (!hurry && nowMs - drawnMs < PAUSE_MS) return;
    const all = hurry;
    [drawnMs, hurry] = [nowMs, false];
    const sites = chosen(store);
    const [fromS, toS] = store.window.at(store.firstS, store.edgeS);
    drawChips();
    tools.draw();
    drawPlot(sites, fromS, toS);
    marks.draw();
    reading.draw(readingS, sites);
    if (!all && nowMs - tablesMs < TABLE_PAUSE_MS) return;
    tablesMs = nowMs;
    setAttribute(frame, "aria-label", plotName(sites, fromS, toS, text));
    summary.draw(sites, fromS, toS, store.clock.nowS);
    const gone = store.leftOut + [...store.sites.values()].reduce((sum, { trace }) => sum + trace.leftOut, 0);
    leftOut.hidden = gone === 0;
    setText(leftOut, text.say("time.leftOut", { count: String(gone) }));
  };

  // Another light or paper has other colours, which the canvas took from the palette when it was made.
  const anew = () => {
    plot?.destroy();
    plot = null;
    hurry = true;
    draw();
  };
  const lights = ["(prefers-color-scheme: dark)", "print"].map((query) => matchMedia(query));
  for (const light of lights) light.addEventListener("change", anew);
  const sized = new ResizeObserver(() => {
    if (matchMedia("print").matches) return;
    plot?.resize(canvas.clientWidth, canvas.clientHeight);
    hurry = true;
  });
  sized.observe(canvas);
  const stop = onFrame(store, draw);
  return () => {
    stop();
    sized.disconnect();
    for (const light of lights) light.removeEventListener("change", anew);
    plot?.destroy();
  };
};

function chosen({ sites, hidden }: Store): Site[] {
  return [...sites.values()].filter(({ epc }) => !hidden.has(epc));
}

/** Time of the next sample of any chosen site; where there is none it stays. */
function neighbour(sites: readonly Site[], timeS: number, by: -1 | 1): number {
  const times = sites.flatMap(({ trace }) => {
    // Just beyond, so that the sample at the place itself is not found again.
    const index = by === 1 ? trace.indexAt(timeS + 1e-6) : trace.indexAt(timeS - 1e-6) - 1;
    return index >= 0 && index < trace.length ? [trace.timeS(index)] : [];
  });
  if (times.length === 0) return timeS;
  return by === 1 ? Math.min(...times) : Math.max(...times);
}

function extent(lines: readonly (readonly (number | null | undefined)[])[]): [lowest: number, highest: number] {
  let [lowest, highest] = [0, 0];
  for (const line of lines) {
    for (const value of line) {
      if (value == null) continue;
      if (value < lowest) lowest = value;
      if (value > highest) highest = value;
    }
  }
  return [lowest, highest];
}

function plotName(sites: readonly Site[], fromS: number, toS: number, text: Text): string {
  if (sites.length === 0) return text.say("time.plot.none");
  const names = sites.map(({ label }) => label).join(", ");
  return text.say("time.plot", { sites: names, from: text.time(fromS, 0), to: text.time(toS, 0) });
}

/** Shows and hides a site; carries the dash and shape of its line. */
function chip(site: Site, index: number, store: Store, now: () => void): HTMLButtonElement {
  const { colour, dash, shape } = siteStyle(index);
  const line = svg(
    "svg",
    { viewBox: "0 0 44 12", class: "chip-line" },
    svg("path", { d: "M0 6h30", "stroke-dasharray": dash.join(" ") || "none", fill: "none", "stroke-width": 2.5 }),
    svg("path", { d: shape, transform: "translate(32 0)", class: "chip-shape" }),
  );
  line.style.setProperty("--colour", `var(${colour})`);
  const toggle = () => {
    if (!store.hidden.delete(site.epc)) store.hidden.add(site.epc);
    now();
  };
  const pressed = String(!store.hidden.has(site.epc));
  return el(
    "button",
    { type: "button", "data-chip": site.epc, "aria-pressed": pressed, on: { click: toggle } },
    line,
    site.label,
  );
}
