/** One site: its pressure as large as the screen allows, and everything that says how far to believe it. */
import { el, setAttribute, setText } from "../dom/element.ts";
import { spokenValue } from "../shell/announcer.ts";
import { type Shown, shownOf } from "../store/shown.ts";
import type { Site } from "../store/site.ts";
import { type Range, verdictOf } from "../store/verdict.ts";
import type { Text } from "../text/text.ts";
import { makeDoubts } from "./doubts.ts";
import { makeFacts } from "./facts.ts";
import { makeFigures } from "./figures.ts";
import { makeTape } from "./tape.ts";

export interface Moment {
  /** Session time. */
  readonly nowS: number;
  readonly endMmhg: number;
  readonly supplyLowV: number;
  readonly range: Range | null;
}

export interface Slip {
  readonly site: Site;
  readonly element: HTMLElement;
  draw(moment: Moment): void;
}

/** `chooseRange` is called when its user wants to set the range of the site. */
export function makeSlip(site: Site, text: Text, chooseRange: () => void): Slip {
  const value = el("span", { class: "slip-value" });
  const uncertainty = el("span", { class: "slip-uncertainty" });
  const unit = el("span", { class: "slip-unit" }, text.say("now.mmhg"));
  const side = el("span", { class: "slip-side" }, uncertainty, unit);
  const seen = el("span", { class: "slip-seen", "aria-hidden": "true" }, value, side);
  const spoken = el("span", { class: "unseen" });
  const why = el("p", { class: "slip-why" });
  const verdict = el("p", { class: "slip-verdict" });
  const band = el("p", { class: "slip-band" });
  const tape = makeTape(text);
  const facts = makeFacts(text);
  const doubts = makeDoubts(text);
  const figures = makeFigures(site, text);
  const rangeButton = el(
    "button",
    { type: "button", class: "quiet", on: { click: chooseRange } },
    text.say("range.set"),
  );

  const element = el(
    "article",
    { class: "slip", "data-site": site.epc, "data-shows": "absent", "aria-label": site.label },
    el("div", { class: "slip-top" }, el("h2", { class: "slip-name" }, site.label), verdict),
    el("p", { class: "slip-number" }, seen, spoken),
    band,
    why,
    tape.element,
    facts.element,
    el(
      "div",
      { class: "slip-foot" },
      doubts.element,
      el("div", { class: "slip-buttons" }, rangeButton, figures.button),
    ),
    figures.element,
  );

  return {
    site,
    element,
    draw({ nowS, endMmhg, supplyLowV, range }) {
      const shown = shownOf(site.latest, nowS);
      const isNumber = shown.shows === "number" || shown.shows === "unsure";
      setAttribute(element, "data-shows", shown.shows);
      setText(value, isNumber ? text.number(shown.gaugeMmhg!, 1) : largeWord(shown, text));
      setText(uncertainty, isNumber ? uncertaintyText(shown, text) : "");
      side.hidden = !isNumber;
      setText(spoken, isNumber ? spokenValue(shown.gaugeMmhg!, shown.uncertaintyMmhg, text) : largeWord(shown, text));
      setText(why, whyText(site, shown, text));
      const place = shown.shows === "number" ? verdictOf(shown.gaugeMmhg, shown.uncertaintyMmhg, range) : null;
      setAttribute(element, "data-place", place?.place ?? null);
      setText(verdict, verdictText(shown, range, text));
      tape.draw(
        endMmhg,
        range,
        isNumber ? { gaugeMmhg: shown.gaugeMmhg!, uncertaintyMmhg: shown.uncertaintyMmhg } : null,
      );
      const reading = site.latest?.reading ?? null;
      const fresh = shown.shows !== "stale" && shown.shows !== "absent";
      facts.draw(shown.ageS, fresh ? reading : null, supplyLowV, site.heard.share);
      setText(band, shown.shows === "number" && reading ? bandText(reading.band, reading.band_scheme, text) : "");
      doubts.draw(fresh && reading ? reading.quality : null);
      figures.draw(supplyLowV);
    },
  };
}

function largeWord({ shows }: Shown, text: Text): string {
  if (shows === "absolute") return text.say("now.absolute");
  if (shows === "invalid") return text.say("now.invalid");
  return text.say(shows === "stale" ? "now.stale" : "now.absent");
}

function uncertaintyText({ uncertaintyMmhg }: Shown, text: Text): string {
  return uncertaintyMmhg === null ? text.say("now.unsure") : `± ${text.uncertainty(uncertaintyMmhg, 1)}`;
}

/** What stands under a word that is in the place of a number. */
function whyText(site: Site, shown: Shown, text: Text): string {
  const { unread, latest } = site;
  const reason =
    unread && (latest === null || unread.time_s > latest.time_s)
      ? text.say("now.unread", { reason: text.reason(unread.reason) })
      : "";
  switch (shown.shows) {
    case "absent":
      return reason;
    case "absolute": {
      const hpa = latest?.reading.absolute_hpa ?? null;
      return hpa === null ? "" : text.say("now.absolute.why", { hpa: text.number(hpa, 1) });
    }
    case "stale": {
      const age = text.age(shown.ageS!);
      const value =
        shown.gaugeMmhg === null ? null : `${text.number(shown.gaugeMmhg, 1)} ${uncertaintyText(shown, text)}`;
      const last = value === null ? text.say("now.stale.since", { age }) : text.say("now.stale.last", { value, age });
      return `${last}. ${reason}`.trim();
    }
    default:
      return "";
  }
}

function verdictText(shown: Shown, range: Range | null, text: Text): string {
  if (range === null || (shown.shows !== "number" && shown.shows !== "unsure")) return "";
  const ends = { low: text.number(range.lowMmhg, 0), high: text.number(range.highMmhg, 0) };
  const verdict = verdictOf(shown.gaugeMmhg, shown.uncertaintyMmhg, range);
  if (verdict === null) return text.say("now.verdict.none", ends);
  if (verdict.place === "inside") return text.say("now.inside", ends);
  if (verdict.place === "edge") return text.say("now.edge", ends);
  const by = text.number(verdict.byMmhg, 1);
  return text.say(verdict.place === "below" ? "now.below" : "now.above", { ...ends, by });
}

function bandText(band: string | null, scheme: string, text: Text): string {
  return band === null ? text.say("now.band.none") : text.say("now.band", { band: text.band(band), scheme });
}
