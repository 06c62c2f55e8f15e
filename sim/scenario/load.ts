/** The pressure that really acts on the tag: what a perfect measurement would show. */
import { type Phase, postureShares } from "./posture.ts";
import type { LoadStory } from "./scenario.ts";

/** 1 mmHg in pascal (conventional: 13 595.1 kg/m³ · 9.80665 m/s² · 1 mm). */
export const MMHG_PA = 133.322387415;

/** Sub-bandage pressure in pascal at kit time `timeUs`; 0 for a tag that nothing presses on. */
export function loadPa(story: LoadStory | null, phases: readonly Phase[], wornBeforeS: number, timeUs: number): number {
  if (!story) return 0;
  const timeS = timeUs / 1e6;
  const relaxed = story.relaxationShare * (1 - Math.exp(-(wornBeforeS + timeS) / story.relaxationTimeConstantS));
  const shares = postureShares(phases, timeUs);
  const resting = story.restingMmHg * (1 - relaxed);
  // Only the resting pressure relaxes noticeably under a stiff bandage; what the muscle adds stays.
  const rise = story.standingRiseMmHg * (shares.standing + shares.walking);
  const gait = story.gaitAmplitudeMmHg * shares.walking * gaitWave(2 * Math.PI * story.gaitHz * timeS);
  return (resting + rise + gait) * MMHG_PA;
}

/** One step: the push-off peak and a smaller one at landing; peaks within ±1.1. */
function gaitWave(phaseRad: number): number {
  return 0.75 * Math.sin(phaseRad) + 0.35 * Math.sin(2 * phaseRad + 0.9);
}
