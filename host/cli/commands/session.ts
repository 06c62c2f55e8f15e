/** `plyframe session`: what a session holds, site by site. */

import { laplaceLimits } from "../../laplace/laplace.ts";
import { cautions } from "../../readings/cautions.ts";
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
} from "../../report/session-lines.ts";
import { sessionJson } from "../../sessions/session-json.ts";
import type { SessionResult } from "../../sessions/session-result.ts";
import type { SiteSummary } from "../../sessions/site-summary.ts";
import { openOne } from "../open-sessions.ts";
import { columns, fold, note, say, sayJson } from "../terminal.ts";

export interface SessionOptions {
  readonly json?: boolean;
}

export async function sessionCommand(file: string, { json }: SessionOptions): Promise<void> {
  const result = await openOne(file);
  if (json) {
    for (const record of sessionJson(result)) sayJson(record);
    return;
  }
  for (const text of [...cautions, ...judgementCautions]) for (const line of fold(text, 110)) note(line);
  for (const line of sessionText(result)) say(line);
}

function sessionText(result: SessionResult): string[] {
  const { session, sites, fromMs, toMs, gradients, agreement, pairs, provenance } = result;
  const invented = provenance.invented ? " (invented)" : "";
  const begin = `${new Date(fromMs).toISOString().slice(0, 19)}Z`;
  return [
    `${session.title ?? result.name}${invented}: subject ${session.subject.id}, ${begin}, ${durationText((toMs - fromMs) / 1000)}`,
    `ambient: ${provenance.ambientSource}`,
    "",
    ...siteTable(sites),
    "Pressures in mmHg above ambient, U expanded (k = 2); cell: temperature of the air cell in °C.",
    "",
    ...intervalTable(sites, fromMs),
    "",
    ...gradients.map((gradient) => `gradient, lying: ${gradientLine(gradient)}`),
    ...sites.flatMap(({ label, classes }) => classes.map((text) => `${label}, lying, beside hosiery classes: ${text}`)),
    ...plannedLines(sites),
    ...(session.reference === undefined
      ? []
      : fold(`agreement: ${agreement ? agreementText(agreement) : `${pairs.length} pairs, too few`}`, 110)),
    ...strongPressureLines(sites).flatMap((text) => fold(text, 110)),
    "",
    ...definitions.flatMap((text) => fold(text, 110)),
    `${provenance.software}, layout ${provenance.layout}, fingerprint ${provenance.fingerprint}`,
  ];
}

function siteTable(sites: readonly SiteSummary[]): string[] {
  const head = [
    "site",
    "layer",
    "lying ± U",
    "band",
    "standing ± U",
    "index ± U",
    "swing",
    "decay",
    "cell",
    "read",
    "calibration",
  ];
  const rows = sites.map((site) => {
    const cell = (posture: string) => {
      const value = site.postures.find((one) => one.posture === posture);
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
      site.calibration.id ?? "none",
    ];
  });
  return columns([head, ...rows], [1, 2, 4, 5, 9]);
}

function intervalTable(sites: readonly SiteSummary[], fromMs: number): string[] {
  const rows = sites.flatMap(({ label, postures }) =>
    postures.map((value) => [
      label,
      value.posture,
      `${clockText(value.fromMs - fromMs)} to ${clockText(value.toMs - fromMs)}`,
      withUncertainty(value.medianMmhg, value.uncertaintyMmhg),
      value.spreadMmhg.toFixed(2),
      `${value.samples}`,
    ]),
  );
  if (rows.length === 0) return ["No posture interval holds enough samples."];
  return columns([["site", "posture", "window", "median ± U", "spread", "samples"], ...rows], [2, 3, 4, 5]);
}

function plannedLines(sites: readonly SiteSummary[]): string[] {
  const lines = sites.flatMap(({ label, planned }) =>
    planned.map(({ wrap, thinMmhg, thickMmhg, measuredLessThinMmhg }) => {
      const thick = thickMmhg === null ? "" : `, thick form ${thickMmhg.toFixed(1)}`;
      const less = measuredLessThinMmhg === null ? "nothing measured" : `measured ${signed(measuredLessThinMmhg, 1)}`;
      return `${label}, planned ${wrap.tension_n} N × ${wrap.layers}: Laplace ${thinMmhg.toFixed(1)} mmHg (thin form)${thick}; ${less}`;
    }),
  );
  return lines.length === 0 ? [] : [...lines, ...fold(laplaceLimits[0]!, 110)];
}
