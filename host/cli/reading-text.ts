/** A reading, waveform or refusal as a line for people. */
import { bandText } from "../readings/bands.ts";
import { PASCAL_PER_MMHG, toHpa, toMmhg } from "../readings/pressure.ts";
import { type QualityId, qualities } from "../readings/quality.ts";
import type { Outcome, Reading, Waveform } from "../readings/reading.ts";
import { type Sites, siteName } from "./sites.ts";
import { paint } from "./terminal.ts";

/** Gauge pressure with its expanded uncertainty; without an ambient the absolute one, called that. */
function pressureText(reading: Reading): string {
  const { gauge, absolute, expandedUncertaintyPa } = reading;
  if (absolute === null) return "no pressure";
  if (gauge === null) return `${toHpa(absolute).toFixed(2)} hPa absolute only`;
  const uncertainty = expandedUncertaintyPa === null ? "?" : (expandedUncertaintyPa / PASCAL_PER_MMHG).toFixed(2);
  return `${toMmhg(gauge).toFixed(2)} ± ${uncertainty} mmHg`;
}

/** The same in hectopascal, for those who calibrate in it. */
function hectopascalText(reading: Reading): string {
  return reading.gauge === null ? "" : `${toHpa(reading.gauge).toFixed(2)} hPa`;
}

function bandCell(reading: Reading): string {
  return reading.band ? bandText(reading.band) : "-";
}

function temperatureText(reading: Reading): string {
  return reading.temperatureC === null ? "-" : `${reading.temperatureC.toFixed(2)} °C`;
}

function supplyText(reading: Reading): string {
  return reading.supplyV === null ? "-" : `${reading.supplyV.toFixed(2)} V`;
}

function ageText(reading: Reading): string {
  return `${reading.ageS.toFixed(1)} s`;
}

/** Flags of a reading, the grave ones in colour and first; "good" when there is none. */
export function qualityText(quality: readonly QualityId[]): string {
  if (quality.length === 0) return paint.green("good");
  const rank = { invalid: 0, warning: 1, info: 2 } as const;
  const sorted = [...quality].sort((a, b) => rank[qualities[a].severity] - rank[qualities[b].severity]);
  return sorted.map((id) => shade(id)).join(" ");
}

function shade(id: QualityId): string {
  const { severity } = qualities[id];
  return severity === "invalid" ? paint.red(`${id}!`) : severity === "warning" ? paint.yellow(id) : id;
}

function timeText(kitTimeUs: number): string {
  return `${(kitTimeUs / 1e6).toFixed(3)} s`;
}

/** What is shown of a reading, each as text. */
export interface Cells {
  readonly time: string;
  readonly site: string;
  readonly pressure: string;
  readonly hectopascal: string;
  readonly band: string;
  readonly temperature: string;
  readonly supply: string;
  readonly age: string;
  readonly quality: string;
}

export function readingCells(reading: Reading, sites: Sites): Cells {
  return {
    time: timeText(reading.kitTimeUs),
    site: siteName(sites, reading.epc),
    pressure: pressureText(reading),
    hectopascal: hectopascalText(reading),
    band: bandCell(reading),
    temperature: temperatureText(reading),
    supply: supplyText(reading),
    age: ageText(reading),
    quality: qualityText(reading.quality),
  };
}

/** One line of any outcome. Widths hold what is common, so that lines written one by one stand under each other. */
export function outcomeLine(outcome: Outcome, sites: Sites): string {
  if (outcome.kind === "unread") return `${timeText(outcome.kitTimeUs).padStart(10)}  ${outcome.sentence}`;
  if (outcome.kind === "waveform") return waveformLine(outcome, sites);
  const cells = readingCells(outcome, sites);
  return [
    cells.time.padStart(10),
    cells.site.padEnd(14),
    cells.pressure.padStart(17),
    ...(outcome.gauge === null ? [] : [cells.hectopascal.padStart(9), cells.band.padEnd(11)]),
    cells.temperature.padStart(8),
    cells.supply.padStart(6),
    `age ${cells.age}`,
    cells.quality,
  ].join("  ");
}

function waveformLine(waveform: Waveform, sites: Sites): string {
  const mmhg = waveform.gauge.flatMap((gauge) => (gauge === null ? [] : [toMmhg(gauge)]));
  const taken = waveform.absolute.filter((pressure) => pressure !== null).length;
  const extent =
    mmhg.length === 0 ? "no gauge pressure" : `${Math.min(...mmhg).toFixed(2)} to ${Math.max(...mmhg).toFixed(2)} mmHg`;
  const head = `${timeText(waveform.kitTimeUs).padStart(10)}  ${siteName(sites, waveform.epc).padEnd(14)}`;
  return `${head}  burst of ${taken} samples every ${waveform.intervalS} s: ${extent}  ${qualityText(waveform.quality)}`;
}
