import { type Fault, type Reason, reasons } from "../../protocol/index.ts";
import type { TagReport } from "../reader/report.ts";
import type { Unread } from "./reading.ts";

/** Makes the reason why a report gives no reading; the sentence names the tag and ends in the reason code. */
export function unread(report: TagReport, reason: Reason, says: string, faults: readonly Fault[] = []): Unread {
  const sentence = `tag ${report.epc}: ${reasons[reason].says} (${says}) [${reason}]`;
  return { kind: "unread", epc: report.epc, kitTimeUs: report.kitTimeUs, reason, sentence, faults };
}
