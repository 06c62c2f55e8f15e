/** Static stiffness index: how much the pressure rises from lying to standing. */
import type { PostureValue } from "./posture-value.ts";

export const STIFFNESS_TEXT =
  "Static stiffness index: pressure standing minus pressure lying at the same site (defined for B1; Partsch), each the median of its window, the lying interval being the last one before the standing one.";

export interface Stiffness {
  readonly resting: PostureValue;
  readonly standing: PostureValue;
  readonly indexMmhg: number;
  /** Expanded (k = 2), at most: as if the two were independent, though both are of one tag and one calibration. */
  readonly uncertaintyMmhg: number | null;
}

/** One index for each standing interval that follows a lying one. `values` in the order of time. */
export function stiffnessOf(values: readonly PostureValue[]): Stiffness[] {
  return values.flatMap((standing, index): Stiffness[] => {
    if (standing.posture !== "standing") return [];
    const resting = values
      .slice(0, index)
      .filter(({ posture }) => posture === "resting")
      .at(-1);
    if (!resting) return [];
    const each = [resting.uncertaintyMmhg, standing.uncertaintyMmhg];
    const uncertaintyMmhg = each[0] === null || each[1] === null ? null : Math.hypot(each[0]!, each[1]!);
    return [{ resting, standing, indexMmhg: standing.medianMmhg - resting.medianMmhg, uncertaintyMmhg }];
  });
}
