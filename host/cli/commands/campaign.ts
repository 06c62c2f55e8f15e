/** `plyframe campaign`: many sessions together. */

import { cautions } from "../../readings/cautions.ts";
import { agreementText, judgementCautions } from "../../report/session-lines.ts";
import { type Campaign, COVERAGE_LOW_PERCENT, campaignOf } from "../../sessions/campaign.ts";
import { openAll } from "../open-sessions.ts";
import { columns, fold, note, say, sayJson } from "../terminal.ts";

export interface CampaignOptions {
  readonly json?: boolean;
}

export async function campaignCommand(files: readonly string[], { json }: CampaignOptions): Promise<void> {
  const campaign = campaignOf(await openAll(files));
  if (json) {
    for (const record of campaignJson(campaign)) sayJson(record);
    return;
  }
  for (const text of [...cautions, ...judgementCautions]) for (const line of fold(text, 110)) note(line);
  for (const line of campaignText(campaign)) say(line);
}

function campaignText(campaign: Campaign): string[] {
  const { sessions, subjects, invented, rows, stiffness, missing, devices, pairs, agreement } = campaign;
  const range = (low: number, high: number) => `${low.toFixed(1)} to ${high.toFixed(1)}`;
  const values = [
    ...rows.map((row) => [
      row.site,
      row.posture,
      `${row.sessions}`,
      row.medianMmhg.toFixed(1),
      range(row.lowMmhg, row.highMmhg),
    ]),
    ...stiffness.map((row) => [
      row.site,
      "stiffness index",
      `${row.sessions}`,
      row.medianMmhg.toFixed(1),
      range(row.lowMmhg, row.highMmhg),
    ]),
  ];
  const due = devices.filter((device) => device.due.length > 0);
  return [
    `${counted(sessions, "session")} of ${counted(subjects, "subject")}${invented > 0 ? `, ${invented} of them invented` : ""}`,
    "",
    ...columns([["site", "value", "sessions", "median", "range"], ...values], [2, 3]),
    "Pressures in mmHg above ambient; one value a session, of its first interval in the posture.",
    "",
    missing.length === 0
      ? `Nothing missing: every site was read in ${COVERAGE_LOW_PERCENT} % of the time or more.`
      : "Missing:",
    ...missing.map(({ session, site, says }) => `  ${session}, ${site}: ${says}`),
    due.length === 0
      ? `None of ${devices.length} devices is due for calibration or check.`
      : `Due, ${due.length} of ${devices.length} devices:`,
    ...due.map(
      ({ epc, calibrationId, due: why }) => `  ${epc} (${calibrationId ?? "no calibration"}): ${why.join("; ")}`,
    ),
    ...(pairs === 0 ? [] : fold(`Agreement: ${agreement ? agreementText(agreement) : `${pairs} pairs, too few`}`, 110)),
  ];
}

function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? "" : "s"}`;
}

function campaignJson({ rows, stiffness, missing, devices, agreement, ...counts }: Campaign): object[] {
  const { sessions, subjects, invented, pairs } = counts;
  return [
    { record: "campaign", sessions, subjects, invented, reference_pairs: pairs },
    ...rows.map(({ site, posture, sessions: count, medianMmhg, lowMmhg, highMmhg }) => ({
      record: "posture",
      site,
      posture,
      sessions: count,
      median_mmhg: medianMmhg,
      low_mmhg: lowMmhg,
      high_mmhg: highMmhg,
    })),
    ...stiffness.map(({ site, sessions: count, medianMmhg, lowMmhg, highMmhg }) => ({
      record: "stiffness",
      site,
      sessions: count,
      median_mmhg: medianMmhg,
      low_mmhg: lowMmhg,
      high_mmhg: highMmhg,
    })),
    ...missing.map((one) => ({ record: "missing", ...one })),
    ...devices.map(({ epc, sessions: count, calibrationId, due }) => ({
      record: "device",
      epc,
      sessions: count,
      calibration_id: calibrationId,
      due,
    })),
    ...(agreement === null
      ? []
      : [
          {
            record: "agreement",
            pairs: agreement.pairs,
            bias_mmhg: agreement.bias,
            deviation_mmhg: agreement.deviation,
            lower_limit_mmhg: agreement.lowerLimit,
            upper_limit_mmhg: agreement.upperLimit,
          },
        ]),
  ];
}
