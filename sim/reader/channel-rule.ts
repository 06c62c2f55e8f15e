/**
 * Where and for how long a reader may transmit. EU: centre frequencies of CEPT ERC/REC 70-03 annex 11 and of EU decision
 * 2018/1538; at most 4 s on a channel, which then rests for 100 ms (EN 302 208, from memory). US: fifty channels, at most 0.4 s
 * on each in any 20 s (47 CFR 15.247, from memory);
 * a carrier that never rests keeps the 0.4 s at a stretch, but comes back to a channel a little before the 20 s are over.
 */
export type ChannelPlan = "eu_lower" | "eu_upper" | "us";

export interface ChannelRule {
  readonly channelsKhz: readonly number[];
  /** Longest time on a channel at a stretch, and within `perUs`. */
  readonly onUs: number;
  /** 0: only one stretch counts. */
  readonly perUs: number;
  /** Time before a channel that was left is used again. */
  readonly restUs: number;
}

const european = { onUs: 4_000_000, perUs: 0, restUs: 100_000 };

export const CHANNEL_RULES: Readonly<Record<ChannelPlan, ChannelRule>> = {
  eu_lower: { channelsKhz: [865_700, 866_300, 866_900, 867_500], ...european },
  eu_upper: { channelsKhz: [916_300, 917_500, 918_700], ...european },
  us: {
    channelsKhz: Array.from({ length: 50 }, (_, i) => 902_750 + 500 * i),
    onUs: 400_000,
    perUs: 20_000_000,
    restUs: 0,
  },
};

/** Whether this kit has the plan. */
export function isChannelPlan(plan: string): plan is ChannelPlan {
  return Object.hasOwn(CHANNEL_RULES, plan);
}
