/** The report of a session: one HTML page without any outside resource, two sheets on paper. */
import { laplaceLimits } from "../laplace/laplace.ts";
import { cautions } from "../readings/cautions.ts";
import type { SessionResult } from "../sessions/session-result.ts";
import { escapeHtml, htmlList, htmlTable } from "./html.ts";
import { REPORT_STYLE } from "./report-style.ts";
import {
  agreementText,
  bandCell,
  clockText,
  decayCell,
  definitions,
  durationText,
  gradientLine,
  judgementCautions,
  signed,
  stiffnessCell,
  strongPressureLines,
  temperatureCell,
  walkingCell,
  withUncertainty,
} from "./session-lines.ts";
import { agreementPlot, coveragePlot, pressurePlot, temperaturePlot } from "./session-plots.ts";

/** Problems beyond this many are counted, so that the page keeps to two sheets; the terminal and the JSON have all. */
const PROBLEMS_SHOWN = 10;

const INTERVALS_SHOWN = 12;

export function sessionReport(result: SessionResult): string {
  const { session, sites } = result;
  const title = session.title ?? "Session";
  const strong = strongPressureLines(sites);
  const anySample = sites.some(({ frames }) => frames > 0);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(title)}: pressures under compression</title>
<style>${REPORT_STYLE}</style>
</head>
<body>
<h1>${escapeHtml(title)}</h1>
<p>Pressures under compression${session.invented ? ' <span class="invented">invented: no measurement stands behind these numbers</span>' : ""}</p>
${headData(result)}
<div class="caution">${cautions.map((text) => `<p>${escapeHtml(text)}</p>`).join("")}</div>
${
  strong.length === 0
    ? ""
    : `<div class="caution" role="alert"><p><strong>${escapeHtml(strong[0]!)}</strong></p>${strong
        .slice(1)
        .map((text) => `<p>${escapeHtml(text)}</p>`)
        .join("")}</div>`
}
<h2>Sites</h2>
${siteTable(result)}
${gradients(result)}
${anySample ? `<h2>Pressure over time</h2>\n${figure(pressurePlot(result), "Gaps in a line are times without a new sample. While walking, single frames catch the gait at random.")}` : ""}
${anySample ? `<h2>When each site was read</h2>\n${figure(coveragePlot(result), "Share of the time worn that lies in no gap.")}` : ""}
<section class="second">
<h2>Every posture interval: median ± U in mmHg (samples)</h2>
${postureTable(result)}
${anySample ? `<h2>Temperature</h2>\n${figure(temperaturePlot(result), "A sealed air cell reads higher as it warms; the calibration's temperature terms are applied.")}` : ""}
${planned(result)}
${agreement(result)}
${problems(result)}
<h2>How the numbers are made</h2>
<div class="small columns">${htmlList([...definitions, ...judgementCautions])}</div>
<h2>Provenance</h2>
${provenance(result)}
</section>
</body>
</html>
`;
}

function figure(svg: string, caption: string): string {
  return `<figure>${svg}<figcaption>${escapeHtml(caption)}</figcaption></figure>`;
}

function headData({ session, fromMs, toMs, provenance: { ambientSource } }: SessionResult): string {
  const data: [string, string][] = [
    ["Subject", session.subject.id],
    ["Begin", `${new Date(fromMs).toISOString().slice(0, 19).replace("T", " ")} UTC`],
    ["Limb", session.limb ?? "not stated"],
    ["Length", durationText((toMs - fromMs) / 1000)],
    ["Garment", session.garment ?? "not stated"],
    ["Ambient", ambientSource],
  ];
  return `<dl>${data.map(([name, value]) => `<dt>${escapeHtml(name)}</dt><dd>${escapeHtml(value)}</dd>`).join("\n")}</dl>`;
}

function siteTable({ sites }: SessionResult): string {
  const head = [
    "site",
    "layer",
    "lying ± U, mmHg",
    "band",
    "standing ± U",
    "index",
    "walking swing",
    "decay",
    "cell, °C",
    "read",
  ];
  const rows = sites.map((site) => {
    const first = (posture: string) => site.postures.find((value) => value.posture === posture);
    const cell = (posture: string) => {
      const value = first(posture);
      return value ? withUncertainty(value.medianMmhg, value.uncertaintyMmhg) : "-";
    };
    return [
      site.label,
      site.tag.layer == null ? "-" : `${site.tag.layer}`,
      cell("resting"),
      bandCell(site),
      cell("standing"),
      stiffnessCell(site),
      walkingCell(site),
      decayCell(site),
      temperatureCell(site),
      `${site.coverage.coveredPercent.toFixed(0)} %`,
    ];
  });
  return htmlTable(head, rows);
}

function gradients({ gradients: list, sites }: SessionResult): string {
  const classes = sites.flatMap(({ label, classes: texts }) =>
    texts.length === 0 ? [] : [`${label}, lying, beside hosiery classes: ${texts.join("; ")}`],
  );
  const lines = [...list.map((gradient) => `Gradient, lying: ${gradientLine(gradient)}`), ...classes];
  return lines.length === 0 ? "" : htmlList(lines);
}

function postureTable({ sites, intervals, fromMs }: SessionResult): string {
  const rows = intervals.flatMap((interval) => {
    const values = sites.map(({ postures }) =>
      postures.find(({ toMs }) => toMs > interval.fromMs && toMs <= interval.toMs),
    );
    const first = values.find((value) => value !== undefined);
    if (!first) return [];
    const window = `${clockText(first.fromMs - fromMs)} to ${clockText(first.toMs - fromMs)}`;
    const cells = values.map((value) =>
      value ? `${withUncertainty(value.medianMmhg, value.uncertaintyMmhg)} (${value.samples})` : "-",
    );
    return [[first.posture, window, ...cells]];
  });
  if (rows.length === 0) return "<p>No posture interval holds enough samples: name the posture and the events.</p>";
  const more = rows.length - INTERVALS_SHOWN;
  const rest = more > 0 ? `<p class="soft">${more} further intervals: plyframe session --json</p>` : "";
  return (
    htmlTable(["posture", "window from begin", ...sites.map(({ label }) => label)], rows.slice(0, INTERVALS_SHOWN)) +
    rest
  );
}

function planned({ sites }: SessionResult): string {
  const rows = sites.flatMap(({ label, planned: estimates, postures }) =>
    estimates.map(({ wrap, thinMmhg, thickMmhg, measuredLessThinMmhg }) => {
      const measured = postures.find(({ posture }) => posture === "resting");
      return [
        label,
        `${wrap.tension_n} N, ${wrap.layers} layers, girth ${wrap.circumference_cm} cm, width ${wrap.width_cm} cm`,
        thinMmhg.toFixed(1),
        thickMmhg === null ? "-" : thickMmhg.toFixed(1),
        measured ? withUncertainty(measured.medianMmhg, measured.uncertaintyMmhg) : "-",
        measuredLessThinMmhg === null ? "-" : signed(measuredLessThinMmhg, 1),
      ];
    }),
  );
  if (rows.length === 0) return "";
  const head = ["site", "planned wrap", "Laplace, thin", "thick", "measured lying", "measured − thin"];
  return `<h2>Planned and measured, mmHg</h2>\n${htmlTable(head, rows)}<div class="small columns">${htmlList(laplaceLimits)}</div>`;
}

function agreement({ pairs, agreement: found, session, sites }: SessionResult): string {
  if (!session.reference) return "";
  const device = session.reference.device ?? "reference device";
  const heading = `<h2>Agreement with ${escapeHtml(device)}</h2>`;
  if (!found) return `${heading}<p>${pairs.length} pairs: too few for an agreement (three at least).</p>`;
  const labels = sites.map(({ label }) => label);
  return `${heading}${figure(agreementPlot(pairs, found, labels), agreementText(found))}`;
}

function problems({ problems: list }: SessionResult): string {
  if (list.length === 0) return "<h2>What is wrong or missing</h2>\n<p>Nothing found.</p>";
  const more =
    list.length > PROBLEMS_SHOWN ? [`and ${list.length - PROBLEMS_SHOWN} more: plyframe session names them`] : [];
  return `<h2>What is wrong or missing</h2>\n${htmlList([...list.slice(0, PROBLEMS_SHOWN), ...more])}`;
}

function provenance({ provenance: p, sites }: SessionResult): string {
  const foreign = p.captureFingerprints.filter((fingerprint) => fingerprint !== p.fingerprint);
  const lines = [
    `${p.software}; layout ${p.layout}, fingerprint ${p.fingerprint}${foreign.length > 0 ? `; captures written with ${foreign.join(", ")}` : ""}`,
    `Captures: ${p.captures.join(", ")}. Ambient: ${p.ambientSource}.`,
    ...sites.map(({ label, tag, calibration, frames, failedReads }) => {
      const valid = calibration.lastValidDate === null ? "" : `, valid to ${calibration.lastValidDate}`;
      return `${label}: tag ${tag.epc}, calibration ${calibration.id ?? "none"} (sensor serial@date)${valid}; ${frames} frames, ${failedReads} failed reads`;
    }),
  ];
  return `<div class="small columns">${htmlList(lines)}</div>`;
}
