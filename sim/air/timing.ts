/**
 * How long things take on the Gen2 air interface: pulse-interval encoding from reader to tag, FM0 or Miller backscatter from
 * tag to reader (from memory of the standard; T1 and T2 as its table has them). All times in microseconds.
 */
import type { Bits } from "./bits.ts";
import type { Query } from "./command.ts";

/** What the reader's symbols and its Query fix for a round. */
export interface LinkProfile {
  /** Length of a data-0. */
  readonly tariUs: number;
  /** Length of a data-0 and a data-1 together. */
  readonly rtcalUs: number;
  readonly trcalUs: number;
  readonly dr: Query["dr"];
  readonly m: Query["m"];
  readonly trext: boolean;
}

const DELIMITER_US = 12.5;
const DIVIDE_RATIO = [8, 64 / 3] as const;
/** Symbols before the first bit of a reply, without and with the pilot tone. */
const FM0_PREAMBLE = [6, 18] as const;
const MILLER_PREAMBLE = [10, 22] as const;
/** T5: the longest a tag may take over a command that writes. */
export const WRITE_LIMIT_US = 20_000;

/** Period of the backscatter link frequency. */
export function linkPeriodUs({ trcalUs, dr }: LinkProfile): number {
  return trcalUs / DIVIDE_RATIO[dr];
}

/** Length of a symbol of the reply, which carries one bit. */
export function replySymbolUs(profile: LinkProfile): number {
  return 2 ** profile.m * linkPeriodUs(profile);
}

/** From the first edge of a command to the end of its last symbol. A Query has a preamble, all others a frame-sync. */
export function commandUs(profile: LinkProfile, bits: Bits, isQuery: boolean): number {
  const { tariUs, rtcalUs, trcalUs } = profile;
  let ones = 0;
  for (const bit of bits) ones += bit;
  const start = DELIMITER_US + tariUs + rtcalUs + (isQuery ? trcalUs : 0);
  return start + (bits.length - ones) * tariUs + ones * (rtcalUs - tariUs);
}

/** From the start of a reply to its first bit. `delayed`: a reply that always has the pilot tone. */
export function replyPreambleUs(profile: LinkProfile, delayed: boolean): number {
  const preamble = profile.m === 0 ? FM0_PREAMBLE : MILLER_PREAMBLE;
  return preamble[profile.trext || delayed ? 1 : 0] * replySymbolUs(profile);
}

/** From the start of a reply of so many bits to the end of its dummy bit. */
export function replyUs(profile: LinkProfile, bits: number, delayed: boolean): number {
  return replyPreambleUs(profile, delayed) + (bits + 1) * replySymbolUs(profile);
}

/** T1, nominal: from the end of a command to the reply. */
export function turnaroundUs(profile: LinkProfile): number {
  return Math.max(profile.rtcalUs, 10 * linkPeriodUs(profile));
}

/** T2: from the end of a reply to the next command, shortest and longest. */
export function answerWindowUs(profile: LinkProfile): readonly [shortest: number, longest: number] {
  const periodUs = linkPeriodUs(profile);
  return [3 * periodUs, 20 * periodUs];
}

/** T3: how long beyond T1 the reader waits for a reply before it goes on; the standard's least is zero. */
export function silenceUs(profile: LinkProfile): number {
  return 3 * linkPeriodUs(profile);
}

/** T4: least time between two commands of which the first has no reply, such as a Select. */
export function commandGapUs({ rtcalUs }: LinkProfile): number {
  return 2 * rtcalUs;
}
