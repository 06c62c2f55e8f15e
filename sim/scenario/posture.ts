/** Postures over time. */

export type Posture = "resting" | "standing" | "walking";

/** From `fromS` on the leg is in this posture, until the next phase; the last one lasts. */
export interface Phase {
  readonly fromS: number;
  readonly posture: Posture;
}

/** Nobody stands up in no time: a change of posture takes this long. */
const CHANGE_S = 1.5;

/** How much of each posture there is at kit time `timeUs`; the shares sum to 1 and change smoothly. */
export function postureShares(phases: readonly Phase[], timeUs: number): Record<Posture, number> {
  const timeS = timeUs / 1e6;
  let index = 0;
  while (index + 1 < phases.length && phases[index + 1]!.fromS <= timeS) index++;
  const { fromS, posture } = phases[index]!;
  const before = index > 0 ? phases[index - 1]!.posture : posture;
  const progress = Math.min(1, Math.max(0, (timeS - fromS) / CHANGE_S));
  const share = progress * progress * (3 - 2 * progress);
  const shares = { resting: 0, standing: 0, walking: 0 };
  shares[before] += 1 - share;
  shares[posture] += share;
  return shares;
}
