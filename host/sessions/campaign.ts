/** Many sessions together: values by site and posture, what is missing, and which devices are due for calibration. */
import { type Agreement, agreementOf } from "../agreement/bland-altman.ts";
import { median } from "./robust.ts";
import type { Posture } from "./session-file.ts";
import type { SessionResult } from "./session-result.ts";

export interface CampaignRow {
  readonly site: string;
  readonly posture: Posture;
  /** Sessions with a value; each counts once, with the first interval of the posture. */
  readonly sessions: number;
  readonly medianMmhg: number;
  readonly lowMmhg: number;
  readonly highMmhg: number;
}

export interface CampaignIndexRow {
  readonly site: string;
  readonly sessions: number;
  readonly medianMmhg: number;
  readonly lowMmhg: number;
  readonly highMmhg: number;
}

export interface CampaignMissing {
  readonly session: string;
  readonly site: string;
  readonly says: string;
}

export interface CampaignDevice {
  readonly epc: string;
  readonly sessions: number;
  readonly calibrationId: string | null;
  readonly due: readonly string[];
}

export interface Campaign {
  readonly sessions: number;
  readonly subjects: number;
  readonly invented: number;
  readonly rows: readonly CampaignRow[];
  /** Static stiffness index by site. */
  readonly stiffness: readonly CampaignIndexRow[];
  readonly missing: readonly CampaignMissing[];
  /** Every tag, those that are due first. The state of a tag is that of its latest session. */
  readonly devices: readonly CampaignDevice[];
  readonly pairs: number;
  readonly agreement: Agreement | null;
}

/** Coverage below this is told as missing data. */
export const COVERAGE_LOW_PERCENT = 90;

const POSTURES: readonly Posture[] = ["resting", "sitting", "standing", "walking"];

export function campaignOf(results: readonly SessionResult[]): Campaign {
  const sites = [...new Set(results.flatMap((result) => result.sites.map(({ tag }) => tag.site)))];
  const pairs = results.flatMap((result) => result.pairs);
  return {
    sessions: results.length,
    subjects: new Set(results.map(({ session }) => session.subject.id)).size,
    invented: results.filter(({ provenance }) => provenance.invented).length,
    rows: sites.flatMap((site) => POSTURES.flatMap((posture) => row(results, site, posture))),
    stiffness: sites.flatMap((site) => {
      const values = ofSite(results, site).flatMap(({ stiffness }) =>
        stiffness.slice(0, 1).map((one) => one.indexMmhg),
      );
      return values.length === 0 ? [] : [{ site, sessions: values.length, ...spread(values) }];
    }),
    missing: results.flatMap(missingOf),
    devices: devicesOf(results),
    pairs: pairs.length,
    agreement: agreementOf(pairs.map(({ tagMmhg, referenceMmhg }) => [tagMmhg, referenceMmhg])),
  };
}

function ofSite(results: readonly SessionResult[], site: string) {
  return results.flatMap((result) => result.sites.filter(({ tag }) => tag.site === site));
}

function row(results: readonly SessionResult[], site: string, posture: Posture): CampaignRow[] {
  const values = ofSite(results, site).flatMap(({ postures }) => {
    const first = postures.find((value) => value.posture === posture);
    return first ? [first.medianMmhg] : [];
  });
  return values.length === 0 ? [] : [{ site, posture, sessions: values.length, ...spread(values) }];
}

function spread(values: readonly number[]) {
  return { medianMmhg: median(values), lowMmhg: Math.min(...values), highMmhg: Math.max(...values) };
}

function missingOf({ name, sites }: SessionResult): CampaignMissing[] {
  return sites.flatMap(({ label, frames, coverage, postures, peak }) => {
    const tell = (says: string): CampaignMissing => ({ session: name, site: label, says });
    if (frames === 0) return [tell("no frame at all")];
    const list: CampaignMissing[] = [];
    if (peak === null) list.push(tell("no pressure above ambient"));
    else if (!postures.some(({ posture }) => posture === "resting")) list.push(tell("no resting value"));
    if (coverage.coveredPercent < COVERAGE_LOW_PERCENT) {
      const longest = coverage.longestGapS.toFixed(0);
      list.push(tell(`read in ${coverage.coveredPercent.toFixed(0)} % of the time worn, longest gap ${longest} s`));
    }
    return list;
  });
}

function devicesOf(results: readonly SessionResult[]): CampaignDevice[] {
  const devices = new Map<string, CampaignDevice>();
  for (const { sites } of [...results].sort((a, b) => a.toMs - b.toMs)) {
    for (const { tag, frames, calibration } of sites) {
      const sessions = (devices.get(tag.epc)?.sessions ?? 0) + 1;
      const known = devices.get(tag.epc);
      const state = frames === 0 && known ? known : { calibrationId: calibration.id, due: calibration.due };
      devices.set(tag.epc, { ...state, epc: tag.epc, sessions });
    }
  }
  return [...devices.values()].sort((a, b) => b.due.length - a.due.length || a.epc.localeCompare(b.epc));
}
