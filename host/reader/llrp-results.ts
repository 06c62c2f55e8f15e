/**
 * Results of LLRP's operations as names of the specification's access results. Source: GS1/EPCglobal Low Level Reader
 * Protocol 1.0.1. A number this list does not have is a `tag_error`.
 */
import { type LlrpElement, numberOf } from "../../protocol/llrp/vocabulary.ts";

const WRITE = [
  "done",
  "tag_memory_overrun",
  "tag_memory_locked",
  "tag_power_insufficient",
  "tag_error",
  "tag_lost",
  "tag_error",
];

const RESULTS: { readonly [parameter: string]: readonly string[] } = {
  C1G2ReadOpSpecResult: ["done", "tag_error", "tag_lost", "tag_error"],
  C1G2WriteOpSpecResult: WRITE,
  C1G2BlockWriteOpSpecResult: WRITE,
  C1G2KillOpSpecResult: ["done", "tag_error", "tag_power_insufficient", "tag_error", "tag_lost", "tag_error"],
  C1G2LockOpSpecResult: ["done", "tag_power_insufficient", "tag_error", "tag_lost", "tag_error"],
};

/** What came of one operation. */
export interface OpResult {
  readonly opSpecId: number;
  readonly isRead: boolean;
  readonly result: string;
  /** Words read; empty for anything but a read that was done. */
  readonly words: readonly number[];
}

/** Null for a parameter that is no result this program asks for. */
export function opResultOf(parameter: LlrpElement): OpResult | null {
  const names = RESULTS[parameter.name];
  if (!names) return null;
  return {
    opSpecId: numberOf(parameter, "OpSpecID"),
    isRead: parameter.name === "C1G2ReadOpSpecResult",
    result: names[numberOf(parameter, "Result")] ?? "tag_error",
    words: (parameter.values.ReadData as readonly number[] | undefined) ?? [],
  };
}
