/**
 * Where and for how long a reader may transmit. EU: centre frequencies of CEPT ERC/REC 70-03 annex 11 and of EU decision
 * 2018/1538; at most 4 s on a channel, which then rests for 100 ms (EN 302 208, from memory). US: fifty channels, at most 0.4 s
 * on each in any 20 s (47 CFR 15.247, from memory). Channels are visited in turn, always in the same order, so that a channel
 * rests while all the others have theirs.
 */
export type ChannelPlan = "eu_lower" | "eu_upper" | "us";

export interface ChannelRule {
  readonly channelsKhz: readonly number[];
  /** Longest time from coming to a channel to leaving it. */
  readonly onUs: number;
  /**
   * Whether each visit takes its whole time, silent or not. Where time on a channel is counted in a window as long as all
   * visits together, a visit cut short would bring every channel back too early.
   */
  readonly whole: boolean;
}

const european = { onUs: 4_000_000, whole: false };

export const CHANNEL_RULES: Readonly<Record<ChannelPlan, ChannelRule>> = {
  eu_lower: { channelsKhz: [865_700, 866_300, 866_900, 867_500], ...european },
  eu_upper: { channelsKhz: [916_300, 917_500, 918_700], ...european },
  us: { channelsKhz: Array.from({ length: 50 }, (_, i) => 902_750 + 500 * i), onUs: 400_000, whole: true },
};

/** Whether this kit has the plan. */
export function isChannelPlan(plan: string): plan is ChannelPlan {
  return Object.hasOwn(CHANNEL_RULES, plan);
}
