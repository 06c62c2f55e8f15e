/** What a session's outputs say in words, the same on the page and in the terminal. */
import type { Agreement, Interval95 } from "../agreement/bland-altman.ts";
import { bandScheme, bandText } from "../readings/bands.ts";
import { GRADIENT_TEXT, type Gradient } from "../sessions/gradient.ts";
import { WINDOW_TEXT } from "../sessions/posture-value.ts";
import type { SiteSummary } from "../sessions/site-summary.ts";
import { STIFFNESS_TEXT } from "../sessions/stiffness.ts";
import { DECAY_SPAN_S } from "../sessions/trend.ts";

/** `44.02 ± 0.37`; `?` for an uncertainty that is not known. */
export function withUncertainty(mmhg: number, uncertaintyMmhg: number | null): string {
  return `${mmhg.toFixed(1)} ± ${uncertaintyMmhg === null ? "?" : uncertaintyMmhg.toFixed(1)}`;
}

export function bandCell({ band }: SiteSummary): string {
  return band === null ? "-" : bandText(band);
}

/** Standing less lying, of the first pair. */
export function stiffnessCell({ stiffness }: SiteSummary): string {
  const first = stiffness[0];
  return first ? withUncertainty(first.indexMmhg, first.uncertaintyMmhg) : "-";
}

export function walkingCell({ walking }: SiteSummary): string {
  if (walking === null) return "-";
  return `${walking.medianMmhg.toFixed(1)} (${walking.bursts} burst${walking.bursts === 1 ? "" : "s"})`;
}

export function temperatureCell({ temperature }: SiteSummary): string {
  return temperature === null ? "-" : `${temperature.first.toFixed(1)} to ${temperature.last.toFixed(1)}`;
}

export function decayCell({ decay }: SiteSummary): string {
  if (decay === null) return "-";
  const percent = decay.first === 0 ? "" : ` (${signed((100 * (decay.last - decay.first)) / decay.first, 1)} %)`;
  return `${signed(decay.last - decay.first, 1)}${percent} in ${durationText(decay.spanS)}`;
}

export function gradientLine(gradient: Gradient): string {
  const { ankleSite, calfSite, ankleMmhg, calfMmhg, calfPercent, direction } = gradient;
  const share = calfPercent === null ? "" : `, ${calfPercent.toFixed(0)} %`;
  const says = {
    falling: "falling from ankle to calf",
    inverse: "INVERSE: higher at the calf than at the ankle (flagged, not judged: it may be meant)",
    not_resolved: "not told apart within the uncertainties",
  }[direction];
  return `${ankleSite} ${ankleMmhg.toFixed(1)} mmHg to ${calfSite} ${calfMmhg.toFixed(1)} mmHg${share}: ${says}`;
}

/** Bias and limits of agreement, each with its 95 % confidence interval, in mmHg. */
export function agreementText({ pairs, deviation, ...found }: Agreement): string {
  const { bias, biasInterval, lowerLimit, lowerInterval, upperLimit, upperInterval } = found;
  const range = ({ low, high }: Interval95) => `${signed(low, 2)} to ${signed(high, 2)}`;
  return [
    `${pairs} pairs, tag less reference in mmHg: bias ${signed(bias, 2)} (${range(biasInterval)}),`,
    `standard deviation ${deviation.toFixed(2)},`,
    `limits of agreement ${signed(lowerLimit, 2)} (${range(lowerInterval)}) and ${signed(upperLimit, 2)} (${range(upperInterval)});`,
    "in brackets the 95 % confidence intervals. Bland and Altman; pairs are taken as independent, though several may be of one tag.",
  ].join(" ");
}

/** Very strong pressures and peaks, in plain words; empty when there is none. */
export function strongPressureLines(sites: readonly SiteSummary[]): string[] {
  const strong = sites.flatMap(({ label, postures }) =>
    postures
      .filter(
        ({ posture, medianMmhg, uncertaintyMmhg }) => posture !== "walking" && medianMmhg + (uncertaintyMmhg ?? 0) > 60,
      )
      .map(({ posture, medianMmhg }) => `${label} ${posture} ${medianMmhg.toFixed(1)} mmHg`),
  );
  const peaks = sites.flatMap(({ label, peak }) =>
    peak !== null && peak.gaugeMmhg! > 60 ? [`${label} ${peak.gaugeMmhg!.toFixed(1)} mmHg`] : [],
  );
  if (strong.length + peaks.length === 0) return [];
  return [
    ...(strong.length > 0 ? [`Very strong (above 60 mmHg, ${bandScheme.id}): ${strong.join(", ")}.`] : []),
    ...(peaks.length > 0 ? [`Highest single readings above 60 mmHg: ${peaks.join(", ")}.`] : []),
    STRONG_CAUTION,
  ];
}

const STRONG_CAUTION =
  "Such pressures can harm, most of all over bone and tendon (shin, ankle bones, Achilles tendon). Pain, numbness, tingling, cold or discoloured toes, or breathlessness are danger signs: remove the compression and seek help.";

/** Beside the cautions of every output, where pressures are put in bands and classes. */
export const judgementCautions: readonly string[] = [
  "Compression classes differ between countries and are made for hosiery measured at the ankle: a class is printed with its scheme and its mmHg, for comparison only.",
  "Guidelines differ on the arterial limits of compression; a clinician decides. Local protocol and licensed practice come first.",
  "A pressure under a bandage is that on the sensor: not the pressure in a vein or artery, and not that beside the sensor.",
];

export const definitions: readonly string[] = [
  `Resting, sitting and standing values: ${WINDOW_TEXT}. U is expanded (k = 2).`,
  STIFFNESS_TEXT,
  GRADIENT_TEXT,
  "Walking swing: highest less lowest sample of a burst taken while walking, the median over the bursts. Single frames catch the gait at random and are not used for it.",
  `Decay: last tenth of the resting readings less the first tenth, when they span ${DECAY_SPAN_S / 60} min at least.`,
  `Bands by ${bandScheme.id}: ${bandScheme.edges}.`,
  "Coverage: share of the time worn that lies in no gap; a gap is longer than three sampling periods and two seconds without a new sample.",
];

export function durationText(seconds: number): string {
  if (seconds < 120) return `${seconds.toFixed(0)} s`;
  return seconds < 7200 ? `${(seconds / 60).toFixed(0)} min` : `${(seconds / 3600).toFixed(1)} h`;
}

/** Time from the beginning: `0:43`, `1:29:59`. */
export function clockText(milliseconds: number): string {
  const seconds = Math.round(milliseconds / 1000);
  const two = (value: number) => `${value}`.padStart(2, "0");
  const [hours, minutes] = [Math.floor(seconds / 3600), Math.floor((seconds % 3600) / 60)];
  return `${hours > 0 ? `${hours}:${two(minutes)}` : minutes}:${two(seconds % 60)}`;
}

export function signed(value: number, digits: number): string {
  return `${value < 0 ? "−" : "+"}${Math.abs(value).toFixed(digits)}`;
}
