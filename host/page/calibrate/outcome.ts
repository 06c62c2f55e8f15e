/** The points so far, and at the end what the certificate would say and the command that writes it. */
import type { CalibrationFit, CalibrationPoint, CalibrationState } from "../../view/messages.ts";
import { el } from "../dom/element.ts";
import type { Text } from "../text/text.ts";

export function pointsTable(points: readonly CalibrationPoint[], text: Text): HTMLElement {
  const heads = [
    "calibrate.points.step",
    "calibrate.points.way",
    "calibrate.points.applied",
    "calibrate.points.gave",
    "calibrate.points.left",
  ] as const;
  const rows = points.map((point) =>
    el(
      "tr",
      {},
      el("th", { scope: "row" }, String(point.step)),
      el(
        "td",
        {},
        text.say(point.direction === "up" ? "calibrate.up" : "calibrate.down"),
        point.unsettled ? ` (${text.say("calibrate.unsettled")})` : null,
      ),
      el("td", { class: "number" }, text.number(point.reference_mmhg, 2)),
      el("td", { class: "number" }, text.number(point.sensor_gauge_mmhg, 2)),
      el("td", { class: "number" }, point.residual_mmhg === null ? "–" : text.number(point.residual_mmhg, 2)),
    ),
  );
  return el(
    "table",
    { class: "fields" },
    el("thead", {}, el("tr", {}, ...heads.map((key) => el("th", { scope: "col" }, text.say(key))))),
    el("tbody", {}, ...rows),
  );
}

/** One line on how good the calibration is so far. */
export function fitLine(fit: CalibrationFit | null, text: Text): string {
  if (fit === null) return text.say("calibrate.fit.none");
  const { expanded_mmhg } = fit.budget;
  if (expanded_mmhg === null) return text.say("calibrate.fit.unknown");
  return text.say("calibrate.fit.known", { u: text.uncertainty(expanded_mmhg, 2) });
}

/** What the certificate would say; the words of findings are the host's, in English. */
export function outcome({ fit, csv, command, epc }: CalibrationState, text: Text): HTMLElement {
  const download =
    csv === null
      ? null
      : el("a", { class: "button", download: "run.csv", href: fileOf(csv) }, text.say("calibrate.csv"));
  if (fit === null) {
    return el(
      "section",
      { class: "outcome" },
      el("h2", {}, text.say("calibrate.done")),
      el("p", {}, text.say("calibrate.done.nothing")),
      download,
    );
  }
  const { block, valid_until, method, findings } = fit;
  const row = (name: string, value: string, hex = false) => [
    el("dt", {}, name),
    el("dd", hex ? { class: "hex" } : {}, value),
  ];
  return el(
    "section",
    { class: "outcome" },
    el("h2", {}, text.say("calibrate.done")),
    el("p", {}, text.say("calibrate.done.what")),
    el(
      "dl",
      { class: "power-figures" },
      ...row(text.say("detail.epc"), epc ?? "–", true),
      ...row(text.say("calibrate.method"), method),
      ...row(text.say("calibrate.u"), fitLine(fit, text)),
      ...row(text.say("calibrate.valid"), valid_until ?? "–"),
      ...row(
        text.say("calibrate.block"),
        block === null ? text.say("calibrate.block.none") : block.words,
        block !== null,
      ),
    ),
    el("h3", {}, text.say("calibrate.findings")),
    findings.length === 0
      ? el("p", {}, text.say("calibrate.findings.none"))
      : el("ul", {}, ...findings.map((found) => el("li", {}, ...findingLine(found, text)))),
    el("h3", {}, text.say("calibrate.next")),
    el("p", {}, text.say("calibrate.next.why")),
    el("div", { class: "buttons" }, download),
    el("pre", { tabindex: 0 }, command),
  );
}

/** In the page's language, and below it the server's sentence, which has the place and the figures. */
function findingLine({ code, sentence }: CalibrationFit["findings"][number], text: Text): readonly Node[] {
  const words = text.finding(code);
  if (words === null) return [el("span", { lang: "en" }, sentence)];
  return [el("span", {}, words), el("br", {}), el("span", { lang: "en", class: "soft" }, sentence)];
}

/** An address under which the browser gives the text out as a file; it never leaves the browser. */
function fileOf(csv: string): string {
  return URL.createObjectURL(new Blob([csv], { type: "text/csv" }));
}
