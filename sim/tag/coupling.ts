import { type Phase, postureShares } from "../scenario/posture.ts";
import type { Coupling } from "../scenario/scenario.ts";

/** Gain in dB from the kit's antenna port to the chip at kit time `timeUs`. */
export function couplingDb(coupling: Coupling, phases: readonly Phase[], timeUs: number): number {
  const timeS = timeUs / 1e6;
  let gainDb = coupling.gainDb - coupling.walkingLossDb * postureShares(phases, timeUs).walking;
  for (const { amplitudeDb, periodS, phaseRad } of coupling.fading) {
    gainDb += amplitudeDb * Math.sin((2 * Math.PI * timeS) / periodS + phaseRad);
  }
  return gainDb;
}
