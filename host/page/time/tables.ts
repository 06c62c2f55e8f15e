/** What is drawn, in words: values at one moment, figures of the stretch shown, marks. */
import { el, setText } from "../dom/element.ts";
import { markName } from "../store/mark-name.ts";
import { shownOf } from "../store/shown.ts";
import type { Site } from "../store/site.ts";
import type { Store } from "../store/store.ts";
import type { Text } from "../text/text.ts";
import { gapLimitS } from "./lines.ts";
import { nearest, summaryOf } from "./summary.ts";

/** A part that is drawn again and again. */
export interface Part<Content extends unknown[]> {
  readonly element: HTMLElement;
  draw(...content: Content): void;
}

/** Values of the chosen sites at one moment; told to a screen reader, since only its user moves it. */
export function makeReadingLine(text: Text): Part<[timeS: number | null, sites: readonly Site[]]> {
  const element = el("p", { class: "reading", role: "status" });
  return {
    element,
    draw(timeS, sites) {
      if (timeS === null) {
        setText(element, text.say("time.reading.none"));
        return;
      }
      const values = sites.map((site) => `${site.label} ${valueAt(site, timeS, text)}`);
      setText(element, `${text.say("time.reading", { time: text.time(timeS, 1) })}: ${values.join("; ")}`);
    },
  };
}

function valueAt({ trace, samplingPeriodS }: Site, timeS: number, text: Text): string {
  const index = nearest(trace, timeS, gapLimitS(samplingPeriodS) / 2);
  const sample = index === null ? null : trace.sample(index);
  if (!sample || sample.gaugeMmhg === null) return text.say("time.reading.nothing");
  const { gaugeMmhg, uncertaintyMmhg } = sample;
  const value = text.number(gaugeMmhg, 1);
  return uncertaintyMmhg === null
    ? `${value} mmHg, ${text.say("now.unsure")}`
    : `${value} ± ${text.uncertainty(uncertaintyMmhg, 1)} mmHg`;
}

const COLUMNS = [
  "time.site",
  "time.lowest",
  "time.mean",
  "time.highest",
  "time.samples",
  "time.unsure",
  "time.gaps",
] as const;

/** Figures of each chosen site in what is shown, in mmHg. */
export function makeSummaryTable(text: Text): Part<[sites: readonly Site[], fromS: number, toS: number, nowS: number]> {
  const body = el("tbody");
  const head = el("tr", {}, ...COLUMNS.map((key) => el("th", { scope: "col" }, text.say(key))));
  const table = el("table", {}, el("caption", {}, `${text.say("time.table")} (mmHg)`), el("thead", {}, head), body);
  const element = el(
    "div",
    { class: "scroll", tabindex: 0, role: "region", "aria-label": text.say("time.table") },
    table,
  );
  return {
    element,
    draw(sites, fromS, toS, nowS) {
      sites.forEach((site, i) => {
        const row = body.rows[i] ?? body.appendChild(emptyRow());
        for (const [column, cell] of summaryCells(site, fromS, toS, nowS, text).entries()) {
          setText(row.cells[column]!, cell);
        }
      });
      while (body.rows.length > sites.length) body.deleteRow(-1);
    },
  };
}

function emptyRow(): HTMLTableRowElement {
  return el("tr", {}, el("th", { scope: "row" }), ...COLUMNS.slice(1).map(() => el("td")));
}

function summaryCells(site: Site, fromS: number, toS: number, nowS: number, text: Text): string[] {
  const limitS = gapLimitS(site.samplingPeriodS);
  const summary = summaryOf(site.trace, fromS, toS, limitS);
  const value = (mmhg: number | null) => (mmhg === null ? "–" : text.number(mmhg, 1));
  const gaps =
    summary.gaps === 0
      ? "0"
      : text.say("time.gaps.longest", { count: String(summary.gaps), time: text.duration(summary.longestGapS) });
  const stale = shownOf(site.latest, nowS).shows === "stale" ? ` (${text.say("now.stale")})` : "";
  return [
    site.label + stale,
    value(summary.lowestMmhg),
    value(summary.meanMmhg),
    value(summary.highestMmhg),
    String(summary.samples),
    String(summary.unsure),
    gaps,
  ];
}

/** Marks of the session, the newest first, each with a button that takes it away. */
export function makeMarksList(store: Store, text: Text): Part<[]> {
  const list = el("ul");
  const none = el("p", { class: "soft" }, text.say("time.marks.none"));
  const element = el("section", { class: "marks-list" }, el("h2", {}, text.say("time.marks")), none, list);
  let drawn: Store["marks"] | null = null;
  let drawnLink: Store["link"] | null = null;
  return {
    element,
    draw() {
      if (store.marks === drawn && store.link === drawnLink) return;
      [drawn, drawnLink] = [store.marks, store.link];
      none.hidden = drawn.length > 0;
      const items = [...drawn]
        .sort((a, b) => b.time_s - a.time_s)
        .map((mark) => {
          const [name, time] = [markName(mark, text), text.time(mark.time_s, 1)];
          const remove = el(
            "button",
            {
              type: "button",
              class: "quiet",
              // Only the server can take it away.
              disabled: store.link !== "open",
              "aria-label": text.say("mark.remove", { mark: name, time }),
              on: { click: () => store.send({ type: "unmark", id: mark.id }) },
            },
            "×",
          );
          return el("li", {}, el("span", { class: "soft" }, time), el("span", {}, name), remove);
        });
      list.replaceChildren(...items);
    },
  };
}
