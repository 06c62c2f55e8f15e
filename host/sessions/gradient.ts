/** How the pressure changes from the ankle to the calf. */
import type { PostureValue } from "./posture-value.ts";

export const GRADIENT_TEXT =
  "Gradient from ankle to calf: resting value at C as a share of that at the ankle site. An inverse one (higher at the calf) is flagged, not judged: it may be meant.";

export interface Gradient {
  readonly ankleSite: string;
  readonly calfSite: string;
  readonly ankleMmhg: number;
  readonly calfMmhg: number;
  /** Calf in percent of ankle. */
  readonly calfPercent: number | null;
  /** `not_resolved`: the two lie closer together than their uncertainties let them be told apart. */
  readonly direction: "falling" | "inverse" | "not_resolved";
}

/** `ankle`, `calf`: values of the same posture. Unknown uncertainties count as none. */
export function gradientOf(ankle: [string, PostureValue], calf: [string, PostureValue]): Gradient {
  const [ankleSite, low] = ankle;
  const [calfSite, high] = calf;
  const reach = Math.hypot(low.uncertaintyMmhg ?? 0, high.uncertaintyMmhg ?? 0);
  const rise = high.medianMmhg - low.medianMmhg;
  return {
    ankleSite,
    calfSite,
    ankleMmhg: low.medianMmhg,
    calfMmhg: high.medianMmhg,
    calfPercent: low.medianMmhg > 0 ? (100 * high.medianMmhg) / low.medianMmhg : null,
    direction: Math.abs(rise) <= reach ? "not_resolved" : rise > 0 ? "inverse" : "falling",
  };
}
