/** A session's results as flat JSON objects with the unit in every name, one a line. */

import { bandScheme, bandText } from "../readings/bands.ts";
import { cautions } from "../readings/cautions.ts";
import type { Coverage } from "./coverage.ts";
import type { PostureValue } from "./posture-value.ts";
import type { SessionResult } from "./session-result.ts";
import type { SiteSummary } from "./site-summary.ts";
import type { Trend } from "./trend.ts";

/** First the session, then its sites, gradients and agreement. */
export function sessionJson(result: SessionResult): object[] {
  const { session, fromMs, toMs, provenance, problems, gradients, agreement, sites } = result;
  return [
    {
      record: "session",
      name: result.name,
      subject: session.subject.id,
      invented: provenance.invented,
      from: iso(fromMs),
      to: iso(toMs),
      software: provenance.software,
      layout: provenance.layout,
      layout_fingerprint: provenance.fingerprint,
      capture_fingerprints: provenance.captureFingerprints,
      ambient_source: provenance.ambientSource,
      captures: provenance.captures,
      cautions,
      problems,
      rejected: result.rejected,
    },
    ...sites.map(siteJson),
    ...gradients.map((gradient) => ({
      record: "gradient",
      ankle_site: gradient.ankleSite,
      calf_site: gradient.calfSite,
      ankle_mmhg: rounded(gradient.ankleMmhg),
      calf_mmhg: rounded(gradient.calfMmhg),
      calf_percent: gradient.calfPercent === null ? null : rounded(gradient.calfPercent),
      direction: gradient.direction,
    })),
    ...(agreement === null
      ? []
      : [
          {
            record: "agreement",
            pairs: agreement.pairs,
            bias_mmhg: rounded(agreement.bias),
            bias_95_mmhg: [rounded(agreement.biasInterval.low), rounded(agreement.biasInterval.high)],
            deviation_mmhg: rounded(agreement.deviation),
            lower_limit_mmhg: rounded(agreement.lowerLimit),
            lower_limit_95_mmhg: [rounded(agreement.lowerInterval.low), rounded(agreement.lowerInterval.high)],
            upper_limit_mmhg: rounded(agreement.upperLimit),
            upper_limit_95_mmhg: [rounded(agreement.upperInterval.low), rounded(agreement.upperInterval.high)],
          },
        ]),
  ];
}

function siteJson(site: SiteSummary): object {
  const { label, tag, band, walking, decay, temperature, coverage, calibration, peak } = site;
  return {
    record: "site",
    site: label,
    layer: tag.layer ?? null,
    epc: tag.epc,
    frames: site.frames,
    failed_reads: site.failedReads,
    invalid_frames: site.invalidFrames,
    postures: site.postures.map(postureJson),
    stiffness: site.stiffness.map(({ indexMmhg, uncertaintyMmhg }) => ({
      index_mmhg: rounded(indexMmhg),
      expanded_uncertainty_mmhg: uncertaintyMmhg === null ? null : rounded(uncertaintyMmhg),
    })),
    band: band === null ? null : bandText(band),
    band_scheme: bandScheme.id,
    classes: site.classes,
    peak_mmhg: peak === null ? null : rounded(peak.gaugeMmhg!),
    walking_swing_mmhg: walking === null ? null : rounded(walking.medianMmhg),
    walking_bursts: walking?.bursts ?? 0,
    decay: trendJson(decay, "mmhg"),
    temperature: trendJson(temperature, "cel"),
    ...coverageJson(coverage),
    planned: site.planned.map(({ wrap, thinMmhg, thickMmhg, measuredLessThinMmhg }) => ({
      ...wrap,
      thin_mmhg: rounded(thinMmhg),
      thick_mmhg: thickMmhg === null ? null : rounded(thickMmhg),
      measured_less_thin_mmhg: measuredLessThinMmhg === null ? null : rounded(measuredLessThinMmhg),
    })),
    calibration_id: calibration.id,
    calibration_valid_to: calibration.lastValidDate,
    due: calibration.due,
  };
}

function postureJson({ posture, fromMs, toMs, samples, medianMmhg, spreadMmhg, uncertaintyMmhg }: PostureValue) {
  return {
    posture,
    from: iso(fromMs),
    to: iso(toMs),
    samples,
    median_mmhg: rounded(medianMmhg),
    spread_mmhg: rounded(spreadMmhg),
    expanded_uncertainty_mmhg: uncertaintyMmhg === null ? null : rounded(uncertaintyMmhg),
    coverage_factor: 2,
  };
}

function trendJson(trend: Trend | null, unit: string) {
  if (trend === null) return null;
  return {
    span_s: rounded(trend.spanS),
    [`first_${unit}`]: rounded(trend.first),
    [`last_${unit}`]: rounded(trend.last),
    [`slope_${unit}_per_h`]: rounded(trend.perHour),
  };
}

function coverageJson({ gaps, longestGapS, coveredPercent, limitS }: Coverage) {
  return {
    covered_percent: rounded(coveredPercent),
    longest_gap_s: rounded(longestGapS),
    gap_limit_s: limitS,
    gaps: gaps.map(({ fromMs, toMs }) => ({ from: iso(fromMs), to: iso(toMs) })),
  };
}

function iso(timeMs: number): string {
  return new Date(timeMs).toISOString();
}

function rounded(value: number): number {
  return Number(value.toFixed(4));
}
